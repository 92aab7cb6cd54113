import type { FastifyRequest } from 'fastify'

/** Values of all cookies of a name: a browser may send several, of different paths. */
export const cookiesOf = ({ headers }: FastifyRequest, name: string): string[] =>
  (headers.cookie ?? '')
    .split(/; */)
    .filter((cookie) => cookie.startsWith(`${name}=`))
    .map((cookie) => cookie.slice(name.length + 1))
