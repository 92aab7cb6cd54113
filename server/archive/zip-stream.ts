import { Unzip, UnzipInflate, Zip, ZipDeflate, ZipPassThrough } from 'fflate'

/** A file to be put into a zip. */
export interface ZipEntry {
  readonly name: string
  readonly chunks: AsyncIterable<Uint8Array>
  /** False for what is compressed already. */
  readonly compress: boolean
}

/** Zips files one after the other, holding no more than a chunk at a time. */
export async function* zipStream(entries: AsyncIterable<ZipEntry>): AsyncGenerator<Uint8Array> {
  let ready: Uint8Array[] = []
  let failure: Error | undefined
  const zip = new Zip((error, chunk) => {
    if (error) failure = error
    else ready.push(chunk)
  })
  function take(): Uint8Array[] {
    if (failure) throw failure
    const chunks = ready
    ready = []
    return chunks
  }
  for await (const { name, chunks, compress } of entries) {
    const file = compress ? new ZipDeflate(name, { level: 6 }) : new ZipPassThrough(name)
    zip.add(file)
    for await (const chunk of chunks) {
      file.push(chunk)
      yield* take()
    }
    file.push(new Uint8Array(), true)
    yield* take()
  }
  zip.end()
  yield* take()
}

/** A file found in a zip. */
export interface UnzippedFile {
  readonly name: string
  readonly bytes: Uint8Array
}

/**
 * The files of a zip in their order, one at a time in memory.
 *
 * @param maxBytes what a file may unpack to
 * @throws {RangeError} if one unpacks to more, or the zip is damaged
 */
export async function* unzipStream(
  chunks: AsyncIterable<Uint8Array>,
  maxBytes: (name: string) => number,
): AsyncGenerator<UnzippedFile> {
  let done: UnzippedFile[] = []
  let failure: RangeError | undefined
  let open = 0
  const unzip = new Unzip((file) => {
    const parts: Uint8Array[] = []
    let bytes = 0
    open++
    file.ondata = (error, part, final) => {
      if (error) failure ??= new RangeError(`${file.name} is damaged`, { cause: error })
      if (failure) return
      bytes += part.length
      if (bytes > maxBytes(file.name)) failure = new RangeError(`${file.name} is larger than it may be`)
      parts.push(part)
      if (!final) return
      open--
      done.push({ name: file.name, bytes: Buffer.concat(parts) })
    }
    file.start()
  })
  unzip.register(UnzipInflate)
  function take(): UnzippedFile[] {
    if (failure) throw failure
    const files = done
    done = []
    return files
  }
  for await (const chunk of chunks) {
    try {
      unzip.push(chunk)
    } catch (error) {
      failure ??= new RangeError('the archive is damaged', { cause: error })
    }
    yield* take()
  }
  if (open > 0) throw new RangeError('the archive ends in the middle of a file')
}
