/** Words of the parts of a reading that open on demand. */
export const workTexts = {
  gates: {
    lead: 'What the camera did to the picture after its sensor, each against the limit from which it widens the uncertainty or stops the reading.',
    head: { gate: 'Check', value: 'Found', limit: 'Limit', verdict: 'Result' },
    names: {
      overshoot: 'Bright rim beside black edges, share of the step',
      'tone-misfit': 'Misfit of the tone patches, share of the paper’s light',
      'noise-correlation': 'Likeness of noise three pixels apart',
      halo: 'Glow of the paper round the black discs',
    },
    passed: 'passed',
    failed: 'beyond the limit',
    notFound: 'not measured',
    none: 'This reading was made before these checks were kept. Read the photo again to see them.',
    sharpening: 'Sharpening found and taken out',
    sharpeningValue: (amount: string, radius: string) => `amount ${amount}, radius ${radius} px`,
    noSharpening: 'none',
  },

  tone: {
    lead: 'Gratings of known black on the card tell how this photo turned light into code values. Each dot is a grating: its light by the ink, and the grey that the photo shows for it.',
    label: (misfit: string) =>
      `Code value against light from black to paper white: the curve fitted to this photo, sRGB, and the gratings. ${misfit}`,
    misfit: (percent: string) => `Gratings lie off the fitted curve by ${percent} % of the paper’s light, rms.`,
    x: 'Light, paper white = 1',
    y: 'Code value, share of full scale',
    key: { fitted: 'fitted to this photo', srgb: 'sRGB', patch: 'a grating of the card' },
    exponent: 'Exponent beside sRGB',
    contrast: 'S-shape, 0: none',
    inkGain: 'Spread of the printed black, each edge',
    um: (value: string) => `${value} µm`,
    tableTitle: 'Every grating',
    head: {
      coverage: 'Black',
      pitch: 'Pitch, mm',
      code: 'Mean code value',
      expected: 'Light by ink',
      read: 'Light read',
    },
    percent: (value: string) => `${value} %`,
    none: 'This reading was made before the curve was kept. Read the photo again to see it.',
  },

  pose: {
    lead: 'Where each black disc was seen, against where the fitted camera would see it. Random arrows of a few µm are noise; a pattern means bent paper or a lens that the fit does not describe.',
    label: (rms: string, largest: string, times: string) =>
      `Map of the card with an arrow at each disc. Root mean square ${rms} µm, largest ${largest} µm, arrows drawn ${times} times their length.`,
    times: (times: string) => `Arrows are drawn ${times} times their length.`,
    x: 'On the card, mm',
    y: 'mm',
    scale: (um: string) => `${um} µm`,
    rms: 'Discs against the fit, rms',
    largest: 'Largest',
    um: (value: string) => `${value} µm`,
    distortion: 'Lens distortion, k1 and k2',
    printScale: 'Print, height over width of a square',
    bow: 'The middle of the paper stands',
    bowValue: (mm: string) => `${mm} mm over its edges`,
    flat: 'no bow to be seen',
    noScale: 'Widths of the coupons do not depend on any of these: the pitch of their own lines is the ruler.',
  },
} as const
