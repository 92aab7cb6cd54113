import { readFile } from 'node:fs/promises'

const LOOK_MS = 50

/** Memory in use by a process, in MB. @returns undefined where the system does not say */
async function memoryMb(pid: number): Promise<number | undefined> {
  const status = await readFile(`/proc/${pid}/status`, 'utf8').catch(() => '')
  const kilobytes = /^VmRSS:\s*(\d+) kB$/m.exec(status)?.[1]
  return kilobytes === undefined ? undefined : Math.round(Number(kilobytes) / 1024)
}

/**
 * Watches how much memory a process fills. A limit set by the system would count the address space, of which
 * WebAssembly reserves gigabytes that it never fills.
 *
 * @param onTooMuch told once, with what it was, in MB
 */
export function watchMemory(pid: number | undefined, limitMb: number, onTooMuch: (mb: number) => void) {
  let timer: NodeJS.Timeout | undefined
  function rest(): void {
    clearInterval(timer)
    timer = undefined
  }
  const look = async () => {
    const watching = timer
    const mb = pid === undefined ? undefined : await memoryMb(pid)
    if (mb === undefined || mb <= limitMb || timer !== watching) return
    rest()
    onTooMuch(mb)
  }
  return {
    rest,
    watch(): void {
      rest()
      timer = setInterval(() => void look(), LOOK_MS)
    },
  }
}
