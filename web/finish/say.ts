const BEEPS = 3
const BEEP_S = 0.35
const PITCH_HZ = 880

/** Beeps loudly, then speaks, and shakes a phone that can. */
export function say(words: string): void {
  beep()
  if ('vibrate' in navigator) navigator.vibrate([400, 150, 400])
  if (!('speechSynthesis' in window)) return
  const spoken = new SpeechSynthesisUtterance(words)
  spoken.lang = document.documentElement.lang || 'en'
  spoken.volume = 1
  window.speechSynthesis.speak(spoken)
}

function beep(): void {
  try {
    const sound = new AudioContext()
    for (let i = 0; i < BEEPS; i++) {
      const tone = sound.createOscillator()
      tone.type = 'square'
      tone.frequency.value = PITCH_HZ
      tone.connect(sound.destination)
      tone.start(sound.currentTime + 2 * i * BEEP_S)
      tone.stop(sound.currentTime + (2 * i + 1) * BEEP_S)
    }
    setTimeout(() => void sound.close(), 3 * BEEPS * BEEP_S * 1000)
  } catch {
    // No sound device: the cue is still spoken and shown.
  }
}
