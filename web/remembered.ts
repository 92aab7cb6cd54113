// What was typed or chosen last on this device. A browser that keeps nothing is fine too.
type Name = 'layer-mm' | 'pixel-um' | 'time-step-s' | 'language' | 'units' | 'sheet-made-by'

export function recallText(name: Name): string | undefined {
  try {
    return localStorage.getItem(name) ?? undefined
  } catch {
    return undefined
  }
}

export function rememberText(name: Name, value: string): void {
  try {
    localStorage.setItem(name, value)
  } catch {
    // Storage is full or forbidden: the fields start with their defaults next time.
  }
}

export const recall = (name: Name, otherwise: string): string => recallText(name) ?? otherwise

export function remember(values: Readonly<Partial<Record<Name, string>>>): void {
  for (const [name, value] of Object.entries(values)) rememberText(name as Name, value)
}
