/** Until then even a slow phone has begun to write it. */
const KEPT_MS = 60_000

/** Has the browser save a file that was made in the page or fetched by it. */
export function saveFile(blob: Blob, fileName: string): void {
  const link = document.createElement('a')
  link.href = URL.createObjectURL(blob)
  link.download = fileName
  link.click()
  setTimeout(() => URL.revokeObjectURL(link.href), KEPT_MS)
}
