import { join } from 'node:path'

/** Where everything lies in a data folder. */
export const dataFiles = (folder: string) => ({
  database: join(folder, 'stepglass.sqlite'),
  lock: join(folder, 'lock.sqlite'),
  signingKey: join(folder, 'signing-key.pem'),
  photos: join(folder, 'photos'),
  /** What is just being received. */
  incoming: join(folder, 'incoming'),
  /** Files of `photos` that are in no record. */
  unclaimed: join(folder, 'unclaimed'),
  /** Made from the photographs, for the screen. */
  previews: join(folder, 'previews'),
  /** A backup that is just being restored. */
  restoring: join(folder, 'restoring'),
})
