const BEEPS = 3
const BEEP_S = 0.35
const PITCH_HZ = 880

let sound: AudioContext | undefined

/** To be called from a tap: a browser keeps silent until somebody touched the page. */
export function allowSound(): void {
  try {
    sound ??= new AudioContext()
    void sound.resume()
  } catch {
    // No sound device: cues are still spoken and shown.
  }
}

/** Whether a cue would be heard: after a reload not before the first tap. */
export const mayBeHeard = (): boolean => !('userActivation' in navigator) || navigator.userActivation.hasBeenActive

/** Beeps loudly, then speaks, and shakes a phone that can. */
export function say(words: string): void {
  beep()
  if ('vibrate' in navigator && mayBeHeard()) navigator.vibrate([400, 150, 400])
  if (!('speechSynthesis' in window)) return
  const spoken = new SpeechSynthesisUtterance(words)
  spoken.lang = document.documentElement.lang || 'en'
  spoken.volume = 1
  window.speechSynthesis.speak(spoken)
}

function beep(): void {
  if (!mayBeHeard()) return
  allowSound()
  if (!sound) return
  for (let i = 0; i < BEEPS; i++) {
    const tone = sound.createOscillator()
    tone.type = 'square'
    tone.frequency.value = PITCH_HZ
    tone.connect(sound.destination)
    tone.start(sound.currentTime + 2 * i * BEEP_S)
    tone.stop(sound.currentTime + (2 * i + 1) * BEEP_S)
  }
}
