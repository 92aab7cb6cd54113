import { readdirSync, readFileSync } from 'node:fs'

/** Clock ticks a second in `/proc`: what Linux gives on every common machine (`getconf CLK_TCK`). */
const TICKS = 100

/** Parent and ticks of a process, its ended children included (proc(5): fields 4 and 14 to 17). */
function statOf(pid: string): { parent: number; ticks: number } | undefined {
  try {
    const text = readFileSync(`/proc/${pid}/stat`, 'utf8')
    // The name, in brackets, may hold anything.
    const fields = text.slice(text.lastIndexOf(')') + 2).split(' ')
    return { parent: Number(fields[1]), ticks: fields.slice(11, 15).reduce((sum, field) => sum + Number(field), 0) }
  } catch {
    return undefined
  }
}

/** What a process and all that it started have used of the processor so far. Linux only. */
export function cpuSecondsOf(pid: number): number {
  const all = readdirSync('/proc')
    .filter((name) => /^\d+$/.test(name))
    .flatMap((name) => {
      const stat = statOf(name)
      return stat ? [{ pid: Number(name), ...stat }] : []
    })
  const below = (top: number): number =>
    all.reduce((sum, { pid, parent, ticks }) => (parent === top ? sum + ticks + below(pid) : sum), 0)
  return ((all.find((process) => process.pid === pid)?.ticks ?? 0) + below(pid)) / TICKS
}
