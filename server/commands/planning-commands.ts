import { Option, type Command } from 'commander'
import { factorOption, number, pair, positive, whole, wholeAnswer } from './option-values.js'
import type { ExpectFlags, LampFlags, LayerHeightFlags, PlanFlags, WorkingCurveFlags } from './planning.js'

const planning = () => import('./planning.js')

const timeStep = () =>
  new Option('--time-step-s <s>', "the printer's smallest step of layer exposure, s (default: 0.1)").argParser(positive)

/** Adds what answers without a photograph: first ladder, layer height, working curve, lamp, expectation. */
export function addPlanningCommands(program: Command): void {
  program
    .command('plan')
    .description('plan the first ladder from what is known of resin and printer, or from nothing; or one of levels')
    .option('--layer-um <um>', 'layer height, um', positive)
    .option('--like-s <s>', 'exposure that works for a similar resin, s', positive)
    .option('--like-layer-um <um>', 'layer height of that exposure, um (default: the same)', positive)
    .option('--dp-um <um>', 'penetration depth of a working curve, um', positive)
    .option('--ec-mj <mJ/cm2>', 'critical dose of a working curve', positive)
    .option('--irradiance-mw <mW/cm2>', 'irradiance at the window', positive)
    .addOption(timeStep())
    .option('--between-s <s>', 'lift, return and rest of each layer, s (default: 8)', positive)
    .addOption(factorOption('what the rungs shall differ in instead of exposure'))
    .option('--from <level>', 'lowest level (default: 0)', number)
    .option('--to <level>', 'highest level', positive)
    .option('--rungs <number>', 'rungs, 2 to 8 (default: 6)', whole)
    .addOption(wholeAnswer())
    .action(async (flags: PlanFlags) => {
      process.exitCode = (await planning()).plan(flags)
    })

  program
    .command('layer-height')
    .description('carry an exposure to another layer height')
    .argument('[reading...]', 'what measure --json wrote; ladders at several heights give the penetration depth')
    .requiredOption('--to-um <um>', 'the new layer height, um', positive)
    .option('--from-um <um>', 'the present layer height, um', positive)
    .option('--exposure-s <s>', 'exposure that is right there, s', positive)
    .option('--interval-s <s,s>', '95 % interval of that exposure, s', pair)
    .option('--dp-um <um>', 'penetration depth, um (default: from the reading, else a wide guess)', positive)
    .option('--dp-interval-um <um,um>', '95 % interval of the penetration depth, um', pair)
    .addOption(timeStep())
    .addOption(wholeAnswer())
    .action(async (readings: string[], flags: LayerHeightFlags) => {
      process.exitCode = await (await planning()).layerHeight(readings, flags)
    })

  program
    .command('working-curve')
    .description('fit penetration depth and critical dose to cure depths')
    .argument(
      '<table>',
      'two columns as a spreadsheet saves or copies them: dose in mJ/cm2, depth in um; - is standard input',
    )
    .option('--irradiance-mw <mW/cm2>', 'irradiance, for a table of times in s', positive)
    .option('--for-um <um>', 'tell the dose for this cure depth', positive)
    .addOption(wholeAnswer())
    .action(async (table: string, flags: WorkingCurveFlags) => {
      process.exitCode = await (await planning()).workingCurve(table, flags)
    })

  program
    .command('lamp')
    .description('dose of an exposure, and the exposure for it when the lamp aged or on another printer')
    .requiredOption('--exposure-s <s>', 'exposure that is right under the first lamp, s', positive)
    .option('--interval-s <s,s>', 'its 95 % interval, s', pair)
    .requiredOption('--from-mw <mW/cm2>', 'irradiance of the first lamp', positive)
    .requiredOption('--to-mw <mW/cm2>', 'irradiance of the second', positive)
    .option('--uncertainty <share>', 'relative standard uncertainty of each irradiance (default: 0.05)', positive)
    .addOption(
      new Option('--reason <reason>', 'the same printer later, or another')
        .choices(['ageing', 'printer'])
        .default('ageing'),
    )
    .addOption(wholeAnswer())
    .action(async (flags: LampFlags) => {
      process.exitCode = (await planning()).lamp(flags)
    })

  program
    .command('expect')
    .description('what to expect of an exposure at a layer height')
    .argument('<reading>', 'what measure --json wrote')
    .requiredOption('--exposure-s <s>', 'layer exposure, s', positive)
    .option('--layer-um <um>', "layer height, um (default: the ladder's)", positive)
    .addOption(wholeAnswer())
    .action(async (reading: string, flags: ExpectFlags) => {
      process.exitCode = await (await planning()).expected(reading, flags)
    })
}
