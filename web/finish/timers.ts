/** One stretch of time of a timer. */
export interface TimerStage {
  /** What goes on: Light, Rest, Drains. */
  readonly what: string
  readonly s: number
  /** Said when it ends. */
  readonly cue: string
  /** Waits for a tap before the next one starts, as for turning a part. Default: goes on by itself. */
  readonly hold?: boolean
}

/** Kept as it is in the browser: a wall clock end, so that reload, sleep and lock lose no time. */
export interface Timer {
  readonly id: string
  readonly name: string
  readonly stages: readonly TimerStage[]
  /** Place of the stage under way; the number of stages once all are over. */
  readonly at: number
  /** When it ends, ms since 1970; absent while it waits for a tap, and when all is over. */
  readonly endsMs?: number
}

export const startTimer = (id: string, name: string, stages: readonly TimerStage[], nowMs: number): Timer => ({
  id,
  name,
  stages,
  at: 0,
  endsMs: nowMs + (stages[0]?.s ?? 0) * 1000,
})

/**
 * Where a timer is by now, however long nobody looked, and what must be said of the stages that ended.
 *
 * @returns the same timer when nothing ended
 */
export function advance(timer: Timer, nowMs: number): { readonly timer: Timer; readonly cues: readonly string[] } {
  const cues: string[] = []
  let { at, endsMs } = timer
  while (endsMs !== undefined && nowMs >= endsMs) {
    const ended = timer.stages[at]!
    cues.push(ended.cue)
    at++
    const next = timer.stages[at]
    endsMs = next && !ended.hold ? endsMs + next.s * 1000 : undefined
  }
  const { endsMs: _, ...rest } = timer
  return cues.length === 0 ? { timer, cues } : { timer: { ...rest, at, ...(endsMs !== undefined && { endsMs }) }, cues }
}

/** A timer that waits goes on with its next stage. */
export const goOn = (timer: Timer, nowMs: number): Timer =>
  waits(timer) ? { ...timer, endsMs: nowMs + timer.stages[timer.at]!.s * 1000 } : timer

export const isOver = ({ at, stages }: Timer): boolean => at >= stages.length
export const waits = (timer: Timer): boolean => timer.endsMs === undefined && !isOver(timer)
export const leftS = ({ endsMs }: Timer, nowMs: number): number =>
  endsMs === undefined ? 0 : Math.max(0, Math.ceil((endsMs - nowMs) / 1000))

/** `4:05`, `1:02:00`. */
export function clock(s: number): string {
  const two = (value: number) => String(value).padStart(2, '0')
  const [hours, minutes, seconds] = [Math.floor(s / 3600), Math.floor(s / 60) % 60, s % 60]
  return hours > 0 ? `${hours}:${two(minutes)}:${two(seconds)}` : `${minutes}:${two(seconds)}`
}
