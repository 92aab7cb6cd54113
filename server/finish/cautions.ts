/** A usual caution with where it comes from; what the data sheet and local rules say comes first. */
export interface Caution {
  readonly text: string
  readonly source: string
}

const MEMORY = 'usual practice of workshops and laboratories, from memory'
const POCKET_GUIDE = 'NIOSH Pocket Guide to Chemical Hazards'

const SKIN: Caution = {
  text: 'Uncured resin irritates skin and eyes and can cause a lasting allergy: nitrile or neoprene gloves, no latex, goggles. Off skin with soap and water, never with solvent.',
  source: 'RadTech safe-handling sheet for UV-curable materials (gloves, goggles); the rest from memory',
}
const AIR: Caution = {
  text: 'Ventilate. Washing and drying in solvent give off by far the most vapour of all steps.',
  source: 'Bowers et al. (NIOSH), Buildings 12 (2022) 1222: up to 36.8 mg/m3 in washing and drying, 0.1 in printing',
}
const SOLVENT: Caution = {
  text: 'Solvent burns: isopropanol flashes at 12 °C and its vapour burns from 2.0 % in air, ethanol at 13 °C and from 3.3 %. No flame, no spark, no hot plate; lid on when it stands.',
  source: `${POCKET_GUIDE}: isopropyl alcohol (npgd0359), ethyl alcohol (npgd0262)`,
}
const MIST: Caution = {
  text: 'Never spray, mist or sonicate a flammable solvent near anything that can ignite it: mist burns even below the flash point. No flammable solvent in the tank of an ultrasonic bath; at most a small closed beaker in water, as its maker allows.',
  source: `${POCKET_GUIDE} (class IB liquids); manuals of ultrasonic baths`,
}
const LIGHT: Caution = {
  text: 'Never look into curing light or its reflection: at 365 nm, 10 mW/cm2 reach the eye’s daily limit in 100 s. Closed box with an interlock, or goggles made for the wavelength.',
  source: 'EU directive 2006/25/EC and ICNIRP, Health Phys. 87 (2004) 171: 10 000 J/m2 UVA on the eye in 8 h',
}
const HEAT: Caution = {
  text: 'Warm resin only gently, closed, below 35 °C; no flame, no oven, no hot spot: hot resin can set by itself and smoke.',
  source: 'RadTech safe-handling sheet (no flame, no heating above 110 °C); the rest from memory',
}
const BULK: Caution = {
  text: 'Never cure thick cups of waste resin in strong light or sun at once: they get hot enough to burn. Thin layers.',
  source: MEMORY,
}
const DUST: Caution = {
  text: 'Sand wet only, with gloves: no dry dust, it holds uncured resin. Collect the slurry; not into the drain.',
  source: MEMORY,
}
const VARNISH: Caution = {
  text: 'Spray varnish is a flammable aerosol: outdoors or in a booth, respirator for organic vapour, no spark. Cured and dry before anybody handles it.',
  source: 'safety data sheets of spray varnishes, from memory',
}
const WASTE: Caution = {
  text: 'Resin, wash liquid, slurry and wipes are hazardous waste: cure what can be cured with light, collect the rest, nothing down the drain. Local law decides.',
  source: 'safety data sheets, section 13 (cure before disposal); local law',
}
const SUN: Caution = {
  text: 'Clear lenses, balls and bottles can set fire to what lies behind them in the sun: keep them away from windows or covered.',
  source:
    'East Sussex Fire & Rescue, after Fire Research Station: 150 to 200 fires a year in the UK by focused sunlight',
}
const USE: Caution = {
  text: 'Not for food, skin or medical use unless the resin is certified for it: uncured rest leaches out.',
  source: 'general wording of safety data sheets, from memory',
}

/** The cautions where each step is; the first sentence anyone reads there. */
export const CAUTIONS = {
  prepare: [SKIN, HEAT],
  print: [SKIN, AIR],
  drain: [SKIN, WASTE],
  wash: [SKIN, SOLVENT, MIST, AIR, WASTE],
  dry: [SOLVENT, AIR],
  'post-cure': [LIGHT, SKIN, BULK],
  smooth: [DUST, WASTE],
  coat: [VARNISH, SKIN],
  age: [SUN, USE],
} as const satisfies Readonly<Record<string, readonly Caution[]>>
export type StepName = keyof typeof CAUTIONS

/** What every step ends with. */
export const FIRST =
  'The safety data sheets of resin, solvent and varnish, local rules and licensed practice come before this page.'
