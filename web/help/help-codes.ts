/** Which picture explains which reason. Each code that the analysis can give stands in exactly one list. */
export const helpCodes = {
  ink: ['not-inked', 'edges-not-found', 'no-contrast', 'coupon-unclear'],
  lay: ['slot-empty', 'coupon-turned', 'coupon-mirrored', 'not-read', 'left-out', 'no-rungs', 'no-readings'],
  light: [
    ...(['glare', 'glare-in-window', 'overexposed', 'too-dark', 'tone-unknown'] as const),
    ...(['photos-differ-in-light', 'photos-differ-in-mirrored-light'] as const),
  ],
  camera: [
    ...(['card-cropped', 'too-few-discs', 'pose-not-found', 'too-few-pixels', 'too-few-pixels-per-mm'] as const),
    ...(['photos-differ-in-scale', 'photos-differ-in-angle'] as const),
  ],
  sharp: ['out-of-focus', 'sharpened', 'smoothed', 'local-tone', 'photos-differ-in-finish'],
  card: ['no-card', 'two-cards', 'other-code', 'newer-card', 'card-bowed', 'card-stretched', 'other-ladder'],
  ladder: [
    ...(['not-bracketed-low', 'not-bracketed-high', 'wrong-sign', 'flat', 'too-few-rungs', 'no-suggestion'] as const),
    ...(['no-dose-to-size', 'nothing-within-tolerance', 'no-rise-with-exposure', 'temperatures-differ'] as const),
    ...(['one-layer-height', 'no-rule-fits', 'no-growth-with-dose', 'too-few-doses'] as const),
  ],
  features: [
    ...(['closed', 'all-closed', 'wanted-line-lost', 'wanted-space-lost', 'wanted-size-not-printed'] as const),
    ...(['wanted-features-exclude-each-other', 'survival-not-read', 'survives-nowhere'] as const),
    ...(['survives-throughout', 'larger-fails-sooner', 'no-trend-with-exposure', 'too-few-sizes-or-rungs'] as const),
  ],
  window: ['window-dark', 'window-off-target', 'mark-in-window', 'shadow-over-window'],
  caliper: ['caliper-disagrees', 'caliper-not-used'],
  compare: [
    ...(['nothing-to-compare', 'one-group', 'exposures-differ', 'bottles-differ', 'photos-stated'] as const),
    ...(['unlabelled', 'unread', 'photos-disagree', 'coupons-disagree', 'no-scatter', 'too-few-readings'] as const),
  ],
  finish: [
    ...(['resin-cold', 'resin-hot', 'bath-too-warm', 'too-hot', 'too-long', 'middle-underdosed'] as const),
    ...(['dry-after-water', 'polish-follows', 'scratch-depth-guessed', 'guessed-values', 'no-plateau'] as const),
    ...(['process-not-read', 'trend-only', 'no-gain-shown', 'irradiance-guessed'] as const),
  ],
  numbers: [
    ...(['not-a-number', 'one-level', 'one-amount', 'too-few-amounts', 'two-scales'] as const),
    ...(['no-numbers', 'irradiance-needed', 'too-few-points', 'dependent-columns', 'no-convergence'] as const),
    ...(['no-maximum', 'not-converged', 'not-finite', 'parameters-not-determined'] as const),
  ],
  file: ['not-an-image', 'damaged-image', 'too-many-pixels'],
} as const

/** The same for what only the service can give: of the place where everything is kept, and of the queue. */
export const serviceHelpCodes = {
  keeping: [
    ...(['disk-full', 'database-full', 'data-read-only', 'database-read-only', 'disk-failing'] as const),
    ...(['database-damaged', 'database-away', 'not-ready', 'photo-missing'] as const),
  ],
  waiting: [
    ...(['too-many-waiting', 'busy', 'took-too-long', 'too-much-memory', 'reader-ended'] as const),
    ...(['ended-the-program'] as const),
  ],
} as const

const codesByTopic = { ...helpCodes, ...serviceHelpCodes }
export type HelpTopic = keyof typeof codesByTopic
export const helpTopics = Object.keys(codesByTopic) as HelpTopic[]
export const codesOf = (topic: HelpTopic): readonly string[] => codesByTopic[topic]

/** The picture for a reason; nothing for one of the service's that says all there is to do by itself. */
export const topicOf = (code: string): HelpTopic | undefined =>
  helpTopics.find((topic) => codesOf(topic).includes(code))
