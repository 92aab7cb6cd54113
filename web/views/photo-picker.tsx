import { useEffect, useRef, useState } from 'preact/hooks'
import { hasLiveCamera } from '../camera/has-live-camera.js'
import { CameraIcon, PictureIcon } from '../icons.js'
import { later } from '../later.js'
import { post } from '../outbox/outbox.js'
import { goTo, readingAddress } from '../route.js'
import { texts } from '../texts/page.js'
import { lifeTexts } from '../texts/life.js'
import { FailureNote, type Failure, toFailure } from './failure-note.js'

const LiveCamera = later(async () => (await import('../camera/live-camera.js')).LiveCamera)

// Phones often hand over HEIC without a type.
const isPicture = (file: File) =>
  file.type.startsWith('image/') || /\.(hei[cf]|jpe?g|png|webp|avif|tiff?)$/i.test(file.name)

/** Takes a photo from the camera, the files, the clipboard or a drop, sends it and goes to its reading. */
export function PhotoPicker() {
  const { start } = texts
  const [sending, setSending] = useState<string>()
  const [failure, setFailure] = useState<Failure>()
  const [kept, setKept] = useState(false)
  const [over, setOver] = useState(false)
  const [live, setLive] = useState(false)

  const send = async (file: File | undefined) => {
    if (!file) return
    if (!isPicture(file)) return setFailure({ message: start.notAPicture })
    setFailure(undefined)
    setKept(false)
    setLive(false)
    setSending(file.name)
    try {
      const accepted = await post(file)
      if (accepted) return goTo(readingAddress(accepted.readingId))
      setKept(true)
    } catch (error) {
      setFailure(toFailure(error, start.sendFailed))
    }
    setSending(undefined)
  }
  const latest = useRef(send)
  latest.current = send

  const buttons = useRef<HTMLDivElement>(null)
  useEffect(() => {
    // Chosen before this script had come.
    const inputs = [...(buttons.current?.querySelectorAll('input') ?? [])]
    void latest.current(inputs.flatMap(({ files }) => [...(files ?? [])])[0])
    for (const input of inputs) input.value = ''
  }, [])

  useEffect(() => {
    const paste = (event: ClipboardEvent) => void latest.current(event.clipboardData?.files[0])
    const hover = (event: DragEvent) => {
      event.preventDefault()
      setOver(true)
    }
    const leave = (event: DragEvent) => event.relatedTarget === null && setOver(false)
    const drop = (event: DragEvent) => {
      event.preventDefault()
      setOver(false)
      void latest.current(event.dataTransfer?.files[0])
    }
    document.addEventListener('paste', paste)
    document.addEventListener('dragover', hover)
    document.addEventListener('dragleave', leave)
    document.addEventListener('drop', drop)
    return () => {
      document.removeEventListener('paste', paste)
      document.removeEventListener('dragover', hover)
      document.removeEventListener('dragleave', leave)
      document.removeEventListener('drop', drop)
    }
  }, [])

  const picker = (label: string, look: string, camera: boolean) => (
    <label class={`button ${look}`}>
      <input
        class="file"
        type="file"
        accept="image/*,.heic,.heif"
        autocomplete="off"
        {...(camera ? { capture: 'environment' as const } : {})}
        disabled={sending !== undefined}
        onChange={(event) => {
          const [file] = event.currentTarget.files ?? []
          void send(file)
          event.currentTarget.value = ''
        }}
      />
      {camera ? <CameraIcon /> : <PictureIcon />}
      {label}
    </label>
  )
  return (
    <div class={over ? 'picker over' : 'picker'} aria-busy={sending !== undefined}>
      <div class="picker-buttons" ref={buttons}>
        {picker(start.takePhoto, 'main for-touch', true)}
        {picker(start.choosePhoto, 'main-on-desk', false)}
      </div>
      <p class="for-mouse">{over ? start.dropNow : start.dropHint}</p>
      <p class="hint">{start.formats}</p>
      {live ? (
        <LiveCamera onPhoto={(photo) => void send(photo)} close={() => setLive(false)} />
      ) : (
        hasLiveCamera() && (
          <button type="button" class="live-button" onClick={() => setLive(true)}>
            {lifeTexts.camera.open}
          </button>
        )
      )}
      <p role="status">{sending ? start.sending(sending) : kept && lifeTexts.outbox.kept}</p>
      {failure && <FailureNote failure={failure} />}
    </div>
  )
}
