/** Lines of a table whose columns are as wide as their widest cell. A row may end early. */
export function tableLines(rows: readonly (readonly string[])[]): string[] {
  const widths: number[] = []
  for (const row of rows) for (const [i, { length }] of row.entries()) widths[i] = Math.max(widths[i] ?? 0, length)
  return rows.map((row) =>
    row
      .map((cell, i) => cell.padEnd(widths[i] ?? 0))
      .join('  ')
      .trimEnd(),
  )
}
