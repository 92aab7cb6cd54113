/** Lines of a table whose columns are as wide as their widest cell; the first row is its head. */
export function tableLines(rows: readonly (readonly string[])[]): string[] {
  const widths = rows.reduce<number[]>((all, row) => row.map((cell, i) => Math.max(all[i] ?? 0, cell.length)), [])
  return rows.map((row) =>
    row
      .map((cell, i) => cell.padEnd(widths[i] ?? 0))
      .join('  ')
      .trimEnd(),
  )
}
