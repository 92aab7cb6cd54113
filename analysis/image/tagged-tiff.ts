/** TIFF tags in ascending order, as TIFF 6.0 wants them: tag, type (3: 16 bit, 4: 32 bit, 7: bytes), count, value or place. */
type Entry = readonly [tag: number, type: 3 | 4 | 7, count: number, value: number]

const HEADER_BYTES = 8
const ENTRY_BYTES = 12

/**
 * An uncompressed TIFF file of 8-bit RGB pixels with a colour profile: the way to have sharp apply a profile that came
 * apart from its pixels.
 *
 * @param fill writes the pixels, shape (height, width, 3), into what it is given
 * @see TIFF 6.0 (1992), sections 2, 6 and 8; tag 34675 for the profile: ICC.1:2010, B.4 [from memory]
 */
export function taggedTiff(
  width: number,
  height: number,
  profile: Uint8Array,
  fill: (rgb: Uint8Array) => void,
): Buffer {
  const pixels = width * height * 3
  const bitsAt = HEADER_BYTES + pixels + (pixels % 2)
  const profileAt = bitsAt + 6
  const directoryAt = profileAt + profile.length + (profile.length % 2)
  const entries: readonly Entry[] = [
    [256, 4, 1, width],
    [257, 4, 1, height],
    [258, 3, 3, bitsAt],
    [259, 3, 1, 1],
    [262, 3, 1, 2],
    [273, 4, 1, HEADER_BYTES],
    [277, 3, 1, 3],
    [278, 4, 1, height],
    [279, 4, 1, pixels],
    [34675, 7, profile.length, profileAt],
  ]
  const file = Buffer.alloc(directoryAt + 2 + entries.length * ENTRY_BYTES + 4)
  file.write('II*\0', 'latin1')
  file.writeUInt32LE(directoryAt, 4)
  fill(file.subarray(HEADER_BYTES, HEADER_BYTES + pixels))
  for (const i of [0, 1, 2]) file.writeUInt16LE(8, bitsAt + 2 * i)
  file.set(profile, profileAt)
  file.writeUInt16LE(entries.length, directoryAt)
  for (const [i, [tag, type, count, value]] of entries.entries()) {
    const at = directoryAt + 2 + i * ENTRY_BYTES
    file.writeUInt16LE(tag, at)
    file.writeUInt16LE(type, at + 2)
    file.writeUInt32LE(count, at + 4)
    file.writeUInt32LE(value, at + 8)
  }
  return file
}
