/** A Markdown table. @param rows shape (n, head.length) */
export function table(head: readonly string[], rows: readonly (readonly (string | number)[])[]): string {
  const line = (cells: readonly (string | number)[]) => `| ${cells.join(' | ')} |`
  return [line(head), line(head.map(() => '---')), ...rows.map(line)].join('\n')
}

export const um = (value: number): string => value.toFixed(2)
export const signed = (value: number): string => (value < 0 ? '' : '+') + value.toFixed(2)
export const percent = (share: number): string => `${(100 * share).toFixed(1)} %`
