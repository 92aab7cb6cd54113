import { useEffect, useRef, useState } from 'preact/hooks'
import { lifeTexts } from '../texts/life.js'
import { greyOf, judge, type Guidance } from './measures.js'

const words = lifeTexts.camera
const LOOK_WIDTH_PX = 320
const LOOK_MS = 300
const names = ['card', 'sharp', 'glare', 'light'] as const satisfies readonly (keyof Guidance)[]

interface Props {
  readonly onPhoto: (photo: File) => void
  readonly close: () => void
}

/** The camera's live picture with signs of whether a photo taken now could be read. */
export function LiveCamera({ onPhoto, close }: Props) {
  const video = useRef<HTMLVideoElement>(null)
  const [guidance, setGuidance] = useState<Guidance>()
  const [failed, setFailed] = useState(false)
  useEffect(() => {
    let stream: MediaStream | undefined
    let gone = false
    const canvas = document.createElement('canvas')
    const pen = canvas.getContext('2d', { willReadFrequently: true })
    const look = () => {
      const { current } = video
      if (!current || !pen || current.videoWidth === 0) return
      canvas.width = LOOK_WIDTH_PX
      canvas.height = Math.round((LOOK_WIDTH_PX * current.videoHeight) / current.videoWidth)
      pen.drawImage(current, 0, 0, canvas.width, canvas.height)
      const { data } = pen.getImageData(0, 0, canvas.width, canvas.height)
      setGuidance(judge(greyOf(data, canvas.width, canvas.height)))
    }
    const wish = { facingMode: 'environment', width: { ideal: 4096 }, height: { ideal: 3072 } }
    navigator.mediaDevices.getUserMedia({ video: wish }).then(
      (opened) => {
        stream = opened
        if (gone || !video.current) return opened.getTracks().forEach((track) => track.stop())
        video.current.srcObject = opened
        void video.current.play()
      },
      () => !gone && setFailed(true),
    )
    const timer = setInterval(look, LOOK_MS)
    return () => {
      gone = true
      clearInterval(timer)
      stream?.getTracks().forEach((track) => track.stop())
    }
  }, [])
  const take = () => {
    const { current } = video
    if (!current) return
    const canvas = document.createElement('canvas')
    canvas.width = current.videoWidth
    canvas.height = current.videoHeight
    canvas.getContext('2d')?.drawImage(current, 0, 0)
    canvas.toBlob(
      (blob) => blob && onPhoto(new File([blob], `ladder-${Date.now()}.jpg`, { type: 'image/jpeg' })),
      'image/jpeg',
      0.95,
    )
  }
  return (
    <section class="camera" aria-label={words.title}>
      {failed ? (
        <p>{words.failed}</p>
      ) : (
        <>
          <video ref={video} playsInline muted aria-label={words.title} />
          <ul class="guidance">
            {names.map((name) => (
              <li key={name} class={guidance?.[name] ? 'good' : 'bad'}>
                {words[name]}: {guidance ? (guidance[name] ? words.good : words.bad[name]) : words.starting}
              </li>
            ))}
          </ul>
          <button type="button" class="main" disabled={!guidance} onClick={take}>
            {words.shutter}
          </button>
        </>
      )}
      <button type="button" onClick={close}>
        {words.close}
      </button>
    </section>
  )
}
