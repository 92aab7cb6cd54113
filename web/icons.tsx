/** The mark: three rungs, each with more light than the last. */
export const Logo = () => (
  <svg class="logo" viewBox="0 0 32 32" aria-hidden="true">
    <rect x="2" y="20" width="8" height="10" rx="1.5" fill-opacity="0.4" />
    <rect x="12" y="12" width="8" height="18" rx="1.5" fill-opacity="0.65" />
    <rect x="22" y="2" width="8" height="28" rx="1.5" />
  </svg>
)

export const CameraIcon = () => (
  <svg class="icon" viewBox="0 0 24 24" aria-hidden="true">
    <path d="M3.5 7.5h4l1.6-2.5h5.8l1.6 2.5h4v11.5h-17z" />
    <circle cx="12" cy="13" r="3.6" />
  </svg>
)

export const PictureIcon = () => (
  <svg class="icon" viewBox="0 0 24 24" aria-hidden="true">
    <path d="M3.5 5h17v14h-17zM4 17l5.5-6 4 4.5 2.5-2.5 4 4" />
    <circle cx="15.5" cy="9" r="1.2" />
  </svg>
)

export const LadderIcon = () => (
  <svg class="icon" viewBox="0 0 24 24" aria-hidden="true">
    <path d="M7 21V3M17 21V3M7 7h10M7 12h10M7 17h10" />
  </svg>
)

export const PlanIcon = () => (
  <svg class="icon" viewBox="0 0 24 24" aria-hidden="true">
    <path d="M4 3v17h17M7.5 16.5 12 11l3 2.5L20 6" />
  </svg>
)

export const WarningIcon = () => (
  <svg class="icon" viewBox="0 0 24 24" aria-hidden="true">
    <path d="M12 4 2.8 20h18.4zM12 10v4.5M12 17v.6" />
  </svg>
)

export const CompareIcon = () => (
  <svg class="icon" viewBox="0 0 24 24" aria-hidden="true">
    <path d="M6 4v16M12 7v13M18 4v9M4.5 9h3M10.5 12h3M16.5 8h3" />
  </svg>
)

export const MoreIcon = () => (
  <svg class="icon" viewBox="0 0 24 24" aria-hidden="true">
    <path d="M4 7h16M4 12h16M4 17h10" />
  </svg>
)

export const FinishIcon = () => (
  <svg class="icon" viewBox="0 0 24 24" aria-hidden="true">
    <circle cx="12" cy="13.5" r="7.5" />
    <path d="M12 9.5v4l2.5 2M9.5 3h5" />
  </svg>
)

export const PlusIcon = () => (
  <svg class="icon" viewBox="0 0 24 24" aria-hidden="true">
    <path d="M12 5v14M5 12h14" />
  </svg>
)

export const MinusIcon = () => (
  <svg class="icon" viewBox="0 0 24 24" aria-hidden="true">
    <path d="M5 12h14" />
  </svg>
)

export const WholeIcon = () => (
  <svg class="icon" viewBox="0 0 24 24" aria-hidden="true">
    <path d="M4 9V4h5M15 4h5v5M20 15v5h-5M9 20H4v-5" />
  </svg>
)
