const MEMORY = 'usual practice of workshops and laboratories, from memory'
const POCKET_GUIDE = 'NIOSH Pocket Guide to Chemical Hazards'

/** What the service says of the steps around printing. Waits and checks are common practice, no source. */
export const english = {
  first:
    'The safety data sheets of resin, solvent and varnish, local rules and licensed practice come before this page.',

  number: (value: number) => String(value),

  traveller: {
    date: 'Date',
    name: 'Name',
    done: 'Done, when',
    total: (time: string) => `All together: ${time}`,
    untimed: 'and the time of the steps without one',
    sheet: '(data sheet)',
    asAt: (place: number) => `as at ${place}`,
  },

  /** Each names what can hurt, says what to do, and where that comes from. */
  cautions: {
    skin: {
      title: 'Skin and eyes',
      text: 'Uncured resin irritates skin and eyes and can cause a lasting allergy: nitrile or neoprene gloves, no latex, goggles. Off skin with soap and water, never with solvent.',
      source: 'RadTech safe-handling sheet for UV-curable materials (gloves, goggles); the rest from memory',
    },
    heat: {
      title: 'Hot resin',
      text: 'Warm resin only gently, closed, below 35 °C; no flame, no oven, no hot spot: hot resin can set by itself and smoke.',
      source: 'RadTech safe-handling sheet (no flame, no heating above 110 °C); the rest from memory',
    },
    air: {
      title: 'Vapour',
      text: 'Ventilate. Washing and drying in solvent give off by far the most vapour of all steps.',
      source:
        'Bowers et al. (NIOSH), Buildings 12 (2022) 1222: up to 36.8 mg/m³ in washing and drying, 0.1 in printing',
    },
    waste: {
      title: 'Waste',
      text: 'Resin, wash liquid, slurry and wipes are hazardous waste: cure what can be cured with light, collect the rest, nothing down the drain. Local law decides.',
      source: 'safety data sheets, section 13 (cure before disposal); local law',
    },
    solvent: {
      title: 'Solvent burns',
      text: 'Solvent burns: isopropanol flashes at 12 °C and its vapour burns from 2.0 % in air, ethanol at 13 °C and from 3.3 %. No flame, no spark, no hot plate; lid on when it stands.',
      source: `${POCKET_GUIDE}: isopropyl alcohol (npgd0359), ethyl alcohol (npgd0262)`,
    },
    mist: {
      title: 'Mist and ultrasound',
      text: 'Never spray, mist or sonicate a flammable solvent near anything that can ignite it: mist burns even below the flash point. No flammable solvent in the tank of an ultrasonic bath; at most a small closed beaker in water, as its maker allows.',
      source: `${POCKET_GUIDE} (class IB liquids); manuals of ultrasonic baths`,
    },
    light: {
      title: 'Curing light',
      text: 'Never look into curing light or its reflection: at 365 nm, 10 mW/cm² reach the eye’s daily limit in 100 s. Closed box with an interlock, or goggles made for the wavelength.',
      source: 'EU directive 2006/25/EC and ICNIRP, Health Phys. 87 (2004) 171: 10 000 J/m² UVA on the eye in 8 h',
    },
    bath: {
      title: 'Lamp over water',
      text: 'No mains lamp over or in an open bath unless it is made for that: the light comes from outside the vessel, and the plug stays dry.',
      source: MEMORY,
    },
    bulk: {
      title: 'Thick resin in light',
      text: 'Never cure thick cups of waste resin in strong light or sun at once: they get hot enough to burn. Thin layers.',
      source: MEMORY,
    },
    dust: {
      title: 'Dust',
      text: 'Sand wet only, with gloves: no dry dust, it holds uncured resin. Collect the slurry; not into the drain.',
      source: MEMORY,
    },
    varnish: {
      title: 'Spray varnish',
      text: 'Spray varnish is a flammable aerosol: outdoors or in a booth, respirator for organic vapour, no spark. Cured and dry before anybody handles it.',
      source: 'safety data sheets of spray varnishes, from memory',
    },
    sun: {
      title: 'Lenses in the sun',
      text: 'Clear lenses, balls and bottles can set fire to what lies behind them in the sun: keep them away from windows or covered.',
      source:
        'East Sussex Fire & Rescue, after Fire Research Station: 150 to 200 fires a year in the UK by focused sunlight',
    },
    use: {
      title: 'Food and skin',
      text: 'Not for food, skin or medical use unless the resin is certified for it: uncured rest leaches out.',
      source: 'general wording of safety data sheets, from memory',
    },
  },

  /** From bottle to shelf. */
  steps: {
    prepare: {
      title: 'Prepare',
      why: 'Cold resin flows badly and holds bubbles; bits of cured resin in the vat scatter light and mark the film.',
      checks: {
        vat: 'Vat emptied through a fine filter, wiped with a soft cloth, no cured bits left',
        film: 'Film clean, dry, clear, without a dent or white spot',
        bottle: 'Bottle turned gently, not shaken: shaking makes bubbles',
        temperature: 'Resin and room at 25 to 30 °C',
        stood: 'Resin stood until the bubbles have left',
      },
      waits: { stand: 'Resin stands' },
      measure: ['Resin °C', 'Room °C', 'Bottle, batch'],
    },
    print: {
      title: 'Print',
      why: 'All later steps only keep the clarity that the exposure gave.',
      checks: {
        exposure: 'Exposure from the latest ladder of this bottle',
        faces: 'Clear faces upright or flat, not in between',
      },
      waits: {},
      measure: ['Exposure s', 'Layer mm'],
    },
    drain: {
      title: 'Drain',
      why: 'Resin that stays on the part goes into the wash, and what the wash leaves cures to a milky skin.',
      checks: {
        tilt: 'Part tilted so that hollows empty',
        drips: 'Drips back into the vat through a filter, not into the bottle',
      },
      waits: { drain: 'Part drains' },
      measure: [],
    },
    wash: {
      title: 'Wash',
      why: 'Too short leaves a sticky film; too long lets solvent into the part, which swells, cracks and turns white.',
      checks: {
        first: 'First bath: used liquid',
        second: 'Second bath: clean liquid',
        hollows: 'Hollows rinsed, no shine of wet resin left',
      },
      waits: { first: 'First bath', second: 'Second bath' },
      measure: ['Liquid, how old'],
    },
    dry: {
      title: 'Dry',
      why: 'Solvent that is cured in leaves white veils; it must leave before the light comes.',
      checks: {
        blown: 'Blown off away from face and flame',
        even: 'Face looks even, feels neither cold nor sticky',
      },
      waits: { dry: 'Part dries' },
      measure: [],
    },
    'post-cure': {
      title: 'Post-cure',
      why: 'Light in stages hardens the part; heat warps and yellows it, and more light than needed yellows too.',
      checks: {
        stages: 'Stages and turns as planned',
        turned: 'Part turned at each cue',
        warm: 'Part hand-warm at most between stages',
      },
      waits: {},
      measure: ['Hottest °C', 'Light min', 'mW/cm²'],
    },
    smooth: {
      title: 'Smooth',
      why: 'Every scratch scatters. Each grit must take away all marks of the one before, or they come back in the polish.',
      checks: {
        across: 'Wet, each grit across the marks of the last',
        washed: 'Washed between grits: one coarse grain undoes the next',
        wet: 'Wet test: what water hides, a coat will hide',
      },
      waits: {},
      measure: ['Last grit', 'Haze index'],
    },
    coat: {
      title: 'Coat or dip',
      why: 'A coat of nearly the index of the resin makes the scratches below it vanish; its own face must level.',
      checks: {
        clean: 'Face clean, dry, without dust',
        tried: 'Tried on a coupon first: some varnish crazes resin',
        thin: 'Thin, level, covered while it dries',
      },
      waits: { level: 'Coat levels and dries' },
      measure: ['Coats', 'Haze index'],
    },
    age: {
      title: 'Keep and look again',
      why: 'Resin parts yellow for months; a coupon of the same bottle kept beside the part tells by how much.',
      checks: {
        bottle: 'Bottle closed, dark, 15 to 30 °C',
        coupon: 'Coupon with date kept in the dark',
        again: 'Measured after a day, a month and half a year',
      },
      waits: {},
      measure: ['Yellowness after a day', 'after a month', 'after half a year'],
    },
  },

  /** Lines that the data sheet of the chosen resin gives. */
  sheet: {
    temperature: (window: string) => `Resin and room ${window} °C`,
    first: (liquid: string) => `First bath: used ${liquid}`,
    second: (liquid: string) => `Second bath: clean ${liquid}`,
    flash: (liquid: string, flashC: string) => `${liquid} flashes at ${flashC} °C: no flame, no spark near it`,
    liquid: 'Wash liquid',
    washMost: (minutes: string) => `In liquid ${minutes} min at most, all baths together`,
    light: 'Light on each face',
    lamp: (minutes: string, lamp: string) => `At least ${minutes} min of light on each face${lamp}`,
    under: (what: string) => ` under a lamp of ${what}`,
    dose: (dose: string) => `${dose} J/cm² on each face`,
    below: (limitC: string) => `Part stays below ${limitC} °C`,
    cool: (limitC: string) => `Rubbed cool, never near ${limitC} °C, where it softens`,
    index: (index: string) => `Coat of an index near ${index}`,
    from: (value: string) => `from ${value}`,
    to: (value: string) => `up to ${value}`,
    range: (low: string, high: string) => `at ${low} to ${high}`,
  },
} as const

type Words<T> = T extends string
  ? string
  : T extends (...args: infer Arguments) => string
    ? (...args: Arguments) => string
    : { readonly [Key in keyof T]: Words<T[Key]> }
/** The same in any language. */
export type FinishWords = Words<typeof english>
