import { Option, type Command } from 'commander'
import type { PostCureFlags, PrepareFlags, ProcessFlags, SmoothFlags, TravellerFlags } from './finish.js'
import { factorOption, number, positive, wholeAnswer } from './option-values.js'

const finish = () => import('./finish.js')

const several = (text: string, before: string[]) => [...before, text]

/** Adds the steps around printing: prepare, post-cure, smooth, ladders of a process, the traveller. */
export function addFinishCommands(program: Command): void {
  program
    .command('prepare')
    .description('what the temperature of the resin does to its flow, and how long it must stand')
    .requiredOption('--resin-c <C>', 'temperature of the resin, degrees C', number)
    .option('--viscosity <mPas>', 'viscosity from the data sheet, mPa s', positive)
    .option('--viscosity-at <C>', 'temperature it is given at, degrees C (default: 25)', number)
    .option('--depth-mm <mm>', 'height of the resin in bottle or vat, mm (default: 100)', positive)
    .option('--bubble-um <um>', 'smallest bubble that must have left, um (default: 300)', positive)
    .addOption(wholeAnswer())
    .action(async (flags: PrepareFlags) => {
      process.exitCode = (await finish()).prepare(flags)
    })

  program
    .command('post-cure')
    .description('stages of light, rest and turns that keep the part under a temperature')
    .option('--irradiance-mw <mW/cm2>', 'irradiance at the part, measured', positive)
    .option('--power-w <W>', 'power of the lamp; the irradiance is then a guess', positive)
    .option('--dose <J/cm2>', 'radiant exposure wanted at each face', positive)
    .option('--minutes <min>', 'or light on each face, min', positive)
    .option('--given-for-w <W>', 'power of the lamp those minutes were given for', positive)
    .requiredOption('--thickness-mm <mm>', 'thickness of the part, mm', positive)
    .addOption(new Option('--in <what>', 'around the part').choices(['still-air', 'fan', 'water']).default('still-air'))
    .option('--at <C>', 'its temperature, degrees C', number, 22)
    .option('--both-sides', 'the lamp reaches both faces at once (default: the part is turned)')
    .option('--limit <C>', 'hottest the part may get, degrees C (default: 60)', positive)
    .option('--penetration-mm <mm>', '1/e depth of the light in cured resin, mm (default: 1.5, a guess)', positive)
    .addOption(wholeAnswer())
    .action(async (flags: PostCureFlags) => {
      process.exitCode = (await finish()).postCure(flags)
    })

  program
    .command('smooth')
    .description('grits from layer steps to clear, and what a coat wins')
    .requiredOption('--layer-um <um>', 'layer height, um', positive)
    .requiredOption('--wall-degrees <degrees>', 'between wall and build plate; 90 is upright', number)
    .option('--pixel-um <um>', 'edge of one mask pixel, um: adds the steps of an upright wall', positive)
    .addOption(new Option('--scale <scale>', 'scale of the sheets').choices(['P', 'JIS']).default('P'))
    .option('--ratio <ratio>', 'grain of one step over that of the next, at most (default: 2)', positive)
    .option('--index <n>', 'refractive index of the cured resin (default: 1.52)', positive)
    .option('--coat-index <n>', 'refractive index of the coat that follows (default: none follows)', positive)
    .option('--haze <share>', 'haze of both faces to stop at (default: 0.05)', positive)
    .addOption(wholeAnswer())
    .action(async (flags: SmoothFlags) => {
      process.exitCode = (await finish()).smooth(flags)
    })

  program
    .command('process')
    .description('what coupons of several cards say that differ in post-cure, grit, coat, standing, temperature or age')
    .addOption(factorOption('what they differ in').makeOptionMandatory())
    .addOption(
      new Option('--of <response>', 'what is measured').choices(['haze', 'yellowness', 'growth']).default('haze'),
    )
    .requiredOption(
      '--coupon <file#slot=level>',
      'a reading, a slot and what was done to it, such as a.json#3=10; repeat in the order of the process',
      several,
      [],
    )
    .addOption(wholeAnswer())
    .action(async (flags: ProcessFlags) => {
      process.exitCode = await (await finish()).processLadder(flags)
    })

  program
    .command('traveller')
    .description('make one page for a part: its steps with boxes to tick, places for values, times summed')
    .requiredOption('--part <name>', 'name of the part')
    .option('--resin <name>', 'bottle or batch')
    .option('--steps <step,...>', 'its steps in order (default: all)')
    .option('--minutes <step=min>', 'time of a step, such as print=240; repeatable', several, [])
    .option(
      '--note <step=text>',
      'a line to tick, such as post-cure=8 times 60 s, turn after each; repeatable',
      several,
      [],
    )
    .addOption(new Option('--paper <paper>', 'size of the page').choices(['a4', 'letter']).default('a4'))
    .addOption(new Option('--language <language>', 'of the page').choices(['en', 'de']).default('en'))
    .option('-o, --output <path>', 'where to write; - is standard output')
    .action(async (flags: TravellerFlags) => (await finish()).traveller(flags))
}
