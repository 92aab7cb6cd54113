import { useEffect, useRef, useState } from 'preact/hooks'
import type { PointPx } from '../../server/api/readings.js'
import type { BoxPx } from './outline.js'
import { heldAt, magnification, shareAt } from './visible-part.js'

/** A finger in a glove trembles: less than this, in the screen's pixels, is still a tap. */
const TAP_PX = 8
const STEP = 1.6
const MIDDLE: PointPx = [0.5, 0.5]
/** Of a wheel's own unit: one notch of a mouse is about 100, a pinch on a touchpad sends many small ones. */
const PER_WHEEL_PX = 1 / 300

/** Where the middle of the picture goes, in shares of its width and height. */
const ARROWS: Readonly<Record<string, PointPx>> = {
  ArrowLeft: [0.7, 0.5],
  ArrowRight: [0.3, 0.5],
  ArrowUp: [0.5, 0.7],
  ArrowDown: [0.5, 0.3],
}

const middle = (points: readonly PointPx[]): PointPx => [
  points.reduce((sum, [x]) => sum + x, 0) / points.length,
  points.reduce((sum, [, y]) => sum + y, 0) / points.length,
]
/** A place of the screen in shares of the picture's width and height. */
function shareOf(svg: SVGSVGElement, [clientX, clientY]: PointPx): PointPx {
  const { left, top, width, height } = svg.getBoundingClientRect()
  return [(clientX - left) / width, (clientY - top) / height]
}

const spread = ([a, b]: readonly PointPx[]) => (a && b ? Math.hypot(a[0] - b[0], a[1] - b[1]) : 0)

/**
 * Which part of a picture is seen: two fingers, wheel, buttons or keys change it.
 *
 * One finger moves the page while the whole picture is seen, as everywhere else; then it moves the picture. The wheel
 * does so with Ctrl (which is also how a pinch on a touchpad arrives) or once the picture is enlarged.
 *
 * @param about what buttons and keys bring to the middle as long as nothing else moved the picture
 */
export function useZoom(whole: BoxPx, about: PointPx) {
  const [part, setPart] = useState(whole)
  const picture = useRef<SVGSVGElement>(null)
  const fingers = useRef(new Map<number, PointPx>())
  const moved = useRef(0)
  const steered = useRef(false)
  const enlarged = magnification(whole, part) > 1.001
  const isEnlarged = useRef(enlarged)
  isEnlarged.current = enlarged

  const steer = (from: PointPx, to: PointPx, times = 1) => {
    steered.current = true
    setPart((now) => heldAt(whole, now, from, to, times))
  }

  useEffect(() => {
    const svg = picture.current
    const turnWheel = (event: WheelEvent) => {
      if (!event.ctrlKey && !isEnlarged.current) return
      event.preventDefault()
      const place = shareOf(svg!, [event.clientX, event.clientY])
      steer(place, place, Math.exp(-event.deltaY * PER_WHEEL_PX))
    }
    // Else the browser would take the gesture for its own and end ours.
    const keepGesture = (event: TouchEvent) => {
      if (event.touches.length > 1 || isEnlarged.current) event.preventDefault()
    }
    svg?.addEventListener('wheel', turnWheel, { passive: false })
    svg?.addEventListener('touchmove', keepGesture, { passive: false })
    return () => {
      svg?.removeEventListener('wheel', turnWheel)
      svg?.removeEventListener('touchmove', keepGesture)
    }
  }, [whole])

  const enlarge = (times: number) =>
    setPart((now) => heldAt(whole, now, steered.current ? MIDDLE : shareAt(now, about), MIDDLE, times))
  const showWhole = () => {
    steered.current = false
    setPart(whole)
  }
  const pointerGone = ({ pointerId }: PointerEvent) => void fingers.current.delete(pointerId)

  return {
    part,
    enlarged,
    picture,
    larger: () => enlarge(STEP),
    smaller: () => enlarge(1 / STEP),
    showWhole,
    /** Whether the click that comes now ends a drag or a pinch. */
    wasGesture: () => moved.current > TAP_PX,

    onKeyDown: (event: KeyboardEvent) => {
      if (event.target !== event.currentTarget || event.ctrlKey || event.metaKey || event.altKey) return
      const arrow = enlarged ? ARROWS[event.key] : undefined
      if (event.key === '+' || event.key === '=') enlarge(STEP)
      else if (event.key === '-') enlarge(1 / STEP)
      else if (event.key === '0') showWhole()
      else if (arrow) steer(MIDDLE, arrow)
      else return
      event.preventDefault()
    },

    gestures: {
      onPointerDown: (event: PointerEvent) => {
        if (fingers.current.size === 0) moved.current = 0
        fingers.current.set(event.pointerId, [event.clientX, event.clientY])
      },
      onPointerMove: (event: PointerEvent) => {
        const before = [...fingers.current.values()]
        // A button let go outside the picture was not heard of.
        if (event.buttons === 0) pointerGone(event)
        if (!fingers.current.has(event.pointerId)) return
        fingers.current.set(event.pointerId, [event.clientX, event.clientY])
        if (before.length === 1 && !enlarged) return
        const after = [...fingers.current.values()]
        const svg = picture.current!
        const [from, to] = [middle(before), middle(after)]
        moved.current += Math.hypot(to[0] - from[0], to[1] - from[1]) + Math.abs(spread(after) - spread(before))
        if (moved.current > TAP_PX) svg.setPointerCapture(event.pointerId)
        const times = before.length > 1 ? spread(after) / Math.max(1, spread(before)) : 1
        steer(shareOf(svg, from), shareOf(svg, to), times)
      },
      onPointerUp: pointerGone,
      onPointerCancel: pointerGone,
    },
  }
}
