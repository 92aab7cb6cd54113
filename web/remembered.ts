// What was typed last, so that one printer need not be typed twice. A browser that keeps nothing is fine too.
type Name = 'layer-mm' | 'pixel-um' | 'time-step-s'

export function recall(name: Name, otherwise: string): string {
  try {
    return localStorage.getItem(name) ?? otherwise
  } catch {
    return otherwise
  }
}

export function remember(values: Readonly<Record<Name, string>>): void {
  try {
    for (const [name, value] of Object.entries(values)) localStorage.setItem(name, value)
  } catch {
    // Storage is full or forbidden: the fields start with their defaults next time.
  }
}
