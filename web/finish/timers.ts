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

/** The end of a stage: what had to be said, and when. */
export interface TimerCue {
  readonly cue: string
  /** ms since 1970 */
  readonly atMs: number
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
  /** When it began to wait or was over, ms since 1970. */
  readonly sinceMs?: number
  /** Cues that came while nobody looked, until somebody taps. */
  readonly missed?: readonly TimerCue[]
}

/** A cue noticed later than this was missed: the page ticks four times a second while it may. */
const LATE_MS = 5000

export const startTimer = (id: string, name: string, stages: readonly TimerStage[], nowMs: number): Timer => ({
  id,
  name,
  stages,
  at: 0,
  endsMs: nowMs + (stages[0]?.s ?? 0) * 1000,
})

/**
 * Where a timer is by now, however long nobody looked, and what had to be said of the stages that ended.
 *
 * @returns the same timer when nothing ended
 */
export function advance(timer: Timer, nowMs: number): { readonly timer: Timer; readonly cues: readonly TimerCue[] } {
  const cues: TimerCue[] = []
  let { at, endsMs } = timer
  while (endsMs !== undefined && nowMs >= endsMs) {
    const ended = timer.stages[at]!
    cues.push({ cue: ended.cue, atMs: endsMs })
    at++
    const next = timer.stages[at]
    endsMs = next && !ended.hold ? endsMs + next.s * 1000 : undefined
  }
  const last = cues.at(-1)
  if (!last) return { timer, cues }
  const missed = [...(timer.missed ?? []), ...cues.filter(({ atMs }) => nowMs - atMs > LATE_MS)]
  const { id, name, stages } = timer
  const rest = { id, name, stages, at, ...(missed.length > 0 && { missed }) }
  return { timer: endsMs === undefined ? { ...rest, sinceMs: last.atMs } : { ...rest, endsMs }, cues }
}

/** A timer that waits goes on with its next stage; what was missed is then known. */
export const goOn = ({ id, name, stages, at, ...timer }: Timer, nowMs: number): Timer =>
  timer.endsMs === undefined && at < stages.length
    ? { id, name, stages, at, endsMs: nowMs + stages[at]!.s * 1000 }
    : { id, name, stages, at, ...timer }

export const isOver = ({ at, stages }: Timer): boolean => at >= stages.length
export const waits = (timer: Timer): boolean => timer.endsMs === undefined && !isOver(timer)
export const leftS = ({ endsMs }: Timer, nowMs: number): number =>
  endsMs === undefined ? 0 : Math.max(0, Math.ceil((endsMs - nowMs) / 1000))
/** For how long it has waited or been over. */
export const sinceS = ({ sinceMs }: Timer, nowMs: number): number =>
  sinceMs === undefined ? 0 : Math.max(0, Math.floor((nowMs - sinceMs) / 1000))

/** `4:05`, `1:02:00`. */
export function clock(s: number): string {
  const two = (value: number) => String(value).padStart(2, '0')
  const [hours, minutes, seconds] = [Math.floor(s / 3600), Math.floor(s / 60) % 60, s % 60]
  return hours > 0 ? `${hours}:${two(minutes)}:${two(seconds)}` : `${minutes}:${two(seconds)}`
}
