import type { Slot } from '../layout/schema.js'
import type { HazeStandard, ReadRung, RefusalReply, Rung, WindowDetail } from '../result.js'
import { stated, type Estimate } from '../statistics/estimate.js'
import { calibrateHaze } from './calibrate-haze.js'
import { clarityScore } from './clarity-score.js'
import { distanceMm, readWindows, type WindowReading, type WindowsInput } from './read-window.js'

/** What a tone curve on trust or sharpening may do to the index: 0.7 points on two frames finished as by a phone, 3 to 6 without patches (drawn). */
const FINISHED = 0.02
/** A white cell that much off the smooth light: a shadow's edge, a finger mark or a bubble. */
const MARK = 0.05
const SHADOW_CELLS = 3

interface Settings {
  readonly hazeCalibration?: readonly [HazeStandard, HazeStandard]
}

/** Adds to each coupon read what its window shows, or the note why it shows nothing. */
export function addWindows(
  rungs: readonly Rung[],
  slots: readonly Slot[],
  input: WindowsInput,
  settings: Settings,
): Rung[] {
  const places = rungs.flatMap((rung, i) =>
    'growthUm' in rung ? [{ slot: slots[i]!, outlinePx: rung.windowOutlinePx }] : [],
  )
  const readings = readWindows(input, places)
  return rungs.map((rung) => {
    const place = places.findIndex(({ slot }) => slot.slot === rung.slot)
    const reading = readings[place]
    if (!reading || !('growthUm' in rung)) return rung
    if (!reading.ok) return { ...rung, notes: [...rung.notes, reading.refusal] }
    return {
      ...rung,
      ...describeWindow(reading.value, slots[0]!, input, settings),
      notes: [...rung.notes, ...marks(reading.value)],
    }
  })
}

function describeWindow(
  { fitted, yellowness, found }: WindowReading,
  { windowTarget: { fine, medium, across } }: Slot,
  { coupon, finished }: WindowsInput,
  { hazeCalibration }: Settings,
): Pick<ReadRung, 'haze' | 'yellownessPerMm' | 'window'> {
  const distance = distanceMm(coupon)
  const degrees = (tangent: number) => (Math.atan(tangent) * 180) / Math.PI
  const haze = {
    value: fitted.haze.value,
    standardUncertainty: Math.hypot(fitted.haze.standardUncertainty, finished ? FINISHED : 0),
  }
  const clarity = (
    direction: WindowDetail['clarity'][number]['direction'],
    { pitchMm }: { readonly pitchMm: number },
    kept: Estimate,
  ) => ({ direction, pitchMm, angleDeg: degrees(pitchMm / (2 * distance)), kept: stated(kept) })
  const angleDeg = degrees(Math.exp(fitted.logWidth.mean) / distance)
  const { deltaB, deltaYellownessIndex, deltaE2000, thicknessMm } = yellowness
  return {
    haze,
    yellownessPerMm: stated(yellowness.perMm),
    window: {
      surface: stated(fitted.surface),
      clarity: [
        clarity('along-build', fine, fitted.kept.fine),
        clarity('along-build', medium, fitted.kept.medium),
        clarity('across-build', across, fitted.kept.across),
      ],
      scatterAngleDeg: { value: angleDeg, standardUncertainty: angleDeg * fitted.logWidth.standardUncertainty },
      transmission: stated(fitted.transmission),
      mirroredLight: stated(fitted.veil),
      yellowness: {
        thicknessMm,
        deltaB: stated(deltaB),
        deltaYellownessIndex: stated(deltaYellownessIndex),
        deltaE2000: stated(deltaE2000),
      },
      defects: [...found.defects],
      defectShare: found.coveredShare,
      examinedMm2: found.examinedMm2,
      score: clarityScore({ haze, surface: fitted.surface, deltaB }),
      ...(hazeCalibration ? { calibratedHazePercent: calibrateHaze(haze, hazeCalibration) } : {}),
    },
  }
}

/** Notes of what lies over the target in a window that was read all the same. */
function marks({ fitted: { misfits } }: WindowReading): RefusalReply[] {
  const off = misfits.filter((misfit) => Math.abs(misfit) > MARK)
  if (off.length === 0) return []
  const worst = off.reduce((a, b) => (Math.abs(b) > Math.abs(a) ? b : a))
  const detail = `${off.length} of ${misfits.length} white places are off by up to ${(100 * worst).toFixed(0)} %`
  return off.length < SHADOW_CELLS
    ? [
        {
          code: 'mark-in-window',
          advice: 'A bubble, dust or finger mark seems to lie over the bars: wipe the window and photograph it again.',
          detail,
        },
      ]
    : [
        {
          code: 'shadow-over-window',
          advice: 'A shadow seems to cross the window: move the lamp or yourself, and photograph it again.',
          detail,
        },
      ]
}
