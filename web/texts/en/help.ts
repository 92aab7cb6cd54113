/** Help: a topic for each drawing. */
export const help = {
  title: 'Help in pictures',
  lead: 'How to ink, lay, light and photograph the coupons, and what helps when something was refused.',
  contents: 'Topics',
  seeHelp: 'Show me how',
  explains: 'Helps with:',
  topics: {
    ink: {
      title: 'Ink the grooves',
      text: [
        'Thin, dark, waterproof ink runs into the grooves by itself. Let it dry, then wipe the face with a barely damp cloth, across the grooves.',
        'The grooves stay dark to their edges, the face and the window stay clean. Do not fill them to the brim.',
        'Gloves and fresh air: ink and cleaning solvent have data sheets, too.',
      ],
    },
    lay: {
      title: 'Lay the coupons',
      text: [
        'Each coupon on its slot, on its legs, inked face up, the cut-off corner at the thick bar of the slot.',
        'A coupon that cannot be laid this way was printed mirrored: switch mirroring off in the slicer.',
      ],
    },
    light: {
      title: 'Light it softly from the side',
      text: [
        'A window or a lamp behind white paper, low from one side. No flash, no lamp above: it is mirrored in the coupons.',
        'The paper is white on the screen but not burnt out. If it is, make the picture darker (exposure −1).',
      ],
    },
    camera: {
      title: 'Hold the camera high and level',
      text: [
        'About 40 cm above the card, level with it, the whole card with all black discs in view. Rather zoom a little than go near.',
        'The phone’s main camera at full resolution, the picture as it comes, not cropped.',
      ],
    },
    sharp: {
      title: 'Sharp, and left as it is',
      text: [
        'Tap on the card to focus, hold the phone with both hands or lean it on something, and use more light.',
        'Switch off HDR, scene and beauty modes; a raw or plain mode is best. Send the original file: messengers shrink pictures.',
      ],
    },
    card: {
      title: 'The card, whole and flat',
      text: [
        'Print it at 100 %, black, on plain matt paper. Tape its corners down so that it lies flat.',
        'One card in the picture, its code uncovered.',
      ],
    },
    ladder: {
      title: 'Rungs on both sides',
      text: [
        'Growth rises with exposure. The ladder needs rungs that print too small and rungs that print too big; the answer lies between.',
        'The reading says which ladder to print next. Same temperature, same place on the build plate, only the layer exposure changes.',
      ],
    },
    features: {
      title: 'Walls that stand, gaps that stay open',
      text: [
        'Too little light and thin walls are lost; too much and narrow gaps close. If both are lost at once, no exposure gives both: use a thicker wall, a wider gap or thinner layers.',
      ],
    },
    window: {
      title: 'A clean window',
      text: [
        'No ink, finger print, dust or shadow on the window; the bars below it must show.',
        'Wipe with what the data sheet allows, and blow dust off just before the photo.',
      ],
    },
    caliper: {
      title: 'Measure the leg',
      text: [
        'The leg beside the key, in the middle of its height, with a caliper set to zero. Measure again if one coupon stands out.',
      ],
    },
    compare: {
      title: 'Compare like with like',
      text: [
        'Coupons of one exposure, finished alike, best all groups on one card. Say with each ladder which bottle and printer it is from.',
        'If photos disagree, take both again in the same light.',
      ],
    },
    finish: {
      title: 'After printing',
      text: [
        'Wash and dry first, then cure in stages, in cool water or air, turned between stages, so that the part stays cool and cures to its middle.',
        'Sand wet, from coarse to fine, each grit until the marks of the one before are gone. Gloves, fresh air, no dry dust.',
        'The data sheets of resin and solvent come before these numbers.',
      ],
    },
    numbers: {
      title: 'Numbers that carry a curve',
      text: ['At least three different exposures or depths, with their units, typed as a table of two columns.'],
    },
    file: {
      title: 'The right file',
      text: ['A JPEG, HEIC, PNG, WebP, AVIF or TIFF straight from the camera, not a screenshot and not a raw file.'],
    },
    keeping: {
      title: 'When nothing can be kept',
      text: [
        'What was acknowledged is not lost, and what can still be read can be looked at. A photo just taken waits on this device and is sent again.',
        'On the machine that runs Stepglass: free room on the disk, let its user write there, look at disk and cable, see that the database runs. Its start and its log name what is missing.',
        'What is damaged or gone comes back from the last backup; a lost photo also when the same one is sent again.',
      ],
    },
    waiting: {
      title: 'When a photo is not read',
      text: [
        'Photos are read in turn. When too many wait, this page sends yours again by itself when there is room.',
        'One that ends its reader is given up with the reason, and the others go on. Save it as a plain JPEG as large as the camera took it, or take a new one.',
      ],
    },
  },
} as const
