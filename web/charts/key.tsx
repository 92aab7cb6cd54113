import type { ComponentChildren } from 'preact'

export type KeySign =
  | 'point'
  | 'within'
  | 'curve'
  | 'tolerance'
  | 'suggestion'
  | 'zero'
  | 'light'
  | 'fitted'
  | 'line'
  | 'srgb'
  | 'warned'
  | 'cross'
  | 'sure'

const signs: Record<KeySign, ComponentChildren> = {
  point: (
    <>
      <path class="bar" d="M14 1v18" />
      <circle class="data-fill" cx="14" cy="10" r="5" />
    </>
  ),
  within: <path class="thick" d="M14 4v12" />,
  curve: (
    <>
      <path class="band" d="M0 17 28 8V2L0 12z" />
      <path class="line" d="M0 15 28 5" />
    </>
  ),
  tolerance: <path class="tolerance" d="M0 3h28v14H0z" />,
  suggestion: (
    <>
      <path class="suggest-band" d="M4 0h20v20H4z" />
      <path class="suggest-line" d="M14 0v20" />
    </>
  ),
  zero: <path class="diamond" d="M14 3l6 7-6 7-6-7z" />,
  light: <circle class="data-fill" cx="14" cy="10" r="3" />,
  line: <path class="line" d="M0 10h28" />,
  srgb: <path class="fitted dashed" d="M0 10h28" />,
  warned: <path class="diamond" d="M14 3l6 7-6 7-6-7z" />,
  cross: <path class="cross" d="M9 5l10 10m0-10-10 10" />,
  sure: (
    <>
      <path class="suggest-band" d="M2 6h24v8H2z" />
      <path class="suggest-line" d="M14 2v16" />
    </>
  ),
  fitted: <path class="fitted" d="M0 10h28" />,
}

/** What the signs of a chart mean. */
export function Key({ entries }: { entries: readonly (readonly [KeySign, string])[] }) {
  return (
    <ul class="key">
      {entries.map(([sign, meaning]) => (
        <li key={sign}>
          <svg viewBox="0 0 28 20" aria-hidden="true">
            {signs[sign]}
          </svg>
          {meaning}
        </li>
      ))}
    </ul>
  )
}
