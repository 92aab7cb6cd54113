const ascii = (bytes: Uint8Array, from: number, to: number) => String.fromCharCode(...bytes.subarray(from, to))

/**
 * Whether a file begins as a JPEG, PNG, WebP, TIFF, AVIF or HEIC does. The decoder knows more formats, among them ones
 * that are programs in their way, such as SVG; a file from a stranger is not to choose them.
 *
 * @see JPEG ITU-T T.81, B.2.1; PNG ISO/IEC 15948, 5.2; WebP RFC 9649, 2.4; TIFF 6.0, section 2; HEIF ISO/IEC 23008-12
 *   over ISO/IEC 14496-12, 4.3 [from memory]
 */
export function isPhotoFile(bytes: Uint8Array): boolean {
  const start = ascii(bytes, 0, 12)
  return (
    start.startsWith('\xff\xd8\xff') ||
    start.startsWith('\x89PNG\r\n\x1a\n') ||
    /^RIFF[^]{4}WEBP/.test(start) ||
    /^(?:II[*+]\0|MM\0[*+])/.test(start) ||
    start.startsWith('ftyp', 4)
  )
}
