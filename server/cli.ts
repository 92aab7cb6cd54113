import { Command, Option } from 'commander'
import type { CompareFlags } from './commands/compare.js'
import type { DesignOptions } from './commands/design.js'
import type { SheetFlags } from './commands/hand-on.js'
import type { MeasureFlags } from './commands/measure.js'
import { factorOption, levels, number, numbers, positive, slots, tabs, whole } from './commands/option-values.js'
import { addFinishCommands } from './commands/finish-commands.js'
import { addPlanningCommands } from './commands/planning-commands.js'
import { endWith } from './usage-error.js'

interface ServeFlags {
  readonly port?: number
  readonly host?: string
  readonly passphrase?: string
  readonly data?: string
}

const EXIT_CODES = `
Exit codes:
  0  every photograph was read and gave a suggestion, or the command did what it was asked
  1  wrong usage or an internal error
  2  a photograph could not be read at all
  3  every photograph was read, but at least one gave no suggestion`

const describeDesign = (command: Command): Command =>
  command
    .option('--id <name>', 'name of the ladder, 4 to 10 digits and capital letters (default: a new one)')
    .requiredOption('--layer-um <um>', 'layer height, um', positive)
    .requiredOption('--pixel-um <um>', 'edge of one mask pixel, um', positive)
    .requiredOption(
      '--exposures <s,s,...>',
      'layer exposure of each rung in slot order, s; one of a ladder of levels',
      numbers,
    )
    .addOption(factorOption('what the rungs differ in instead of exposure'))
    .option(
      '--levels <level,...>',
      'level of each rung in slot order: numbers, or names such as P800, J2000, DIP',
      levels,
    )

const output = () => new Option('-o, --output <path>', 'where to write; - is standard output')

// Each command loads what it needs when it runs, so that none waits for the others' libraries.
const program = new Command('stepglass')
  .description('Measures a printed exposure ladder of clear resin from one photograph and says which exposure to use.')
  .addHelpText('after', EXIT_CODES)
  .showHelpAfterError('(stepglass --help says more)')

program
  .command('measure')
  .description('read photographs of a ladder on its card')
  .argument('<photo...>', 'JPEG, PNG, WebP, TIFF, AVIF or HEIC')
  .option('--json', 'print the whole result: an object for one photograph, an array for several')
  .option('--tolerance-um <um>', 'lateral growth allowed per side, um (default: 20)', positive)
  .option('--time-step-s <s>', "the printer's smallest step of layer exposure, s (default: 0.1)", positive)
  .option('--smallest-line-um <um>', 'narrowest wall that must stand, um', positive)
  .option('--smallest-space-um <um>', 'narrowest gap that must stay open, um', positive)
  .option('--caliper <slot=mm,...>', "caliper readings of the coupons' 4 mm tabs, mm, such as 1=4.02,4=4.05", tabs)
  .option('--caliper-u-mm <mm>', 'standard uncertainty of the caliper itself, mm (default: 0.012)', positive)
  .addOption(
    new Option('--prefer <what>', 'within the tolerance: dose-to-size, or the clearest exposure that haze points to')
      .choices(['size', 'clarity'])
      .default('size'),
  )
  .option(
    '--combine',
    'after each photograph, one answer from all of them: photographs of the same coupons on one card',
  )
  .option(
    '--most-yellowness-per-mm <value>',
    'most yellowness wanted: bounds the exposure if it shows a trend',
    positive,
  )
  .option('--resin-temperature-c <C>', 'of the resin while printing; noted and warned about', number)
  .option('--turned <slot,...>', 'slots whose coupon was printed turned by 90 degrees about the vertical', slots)
  .option('--profiles', 'add each grating profile with its fit to the result')
  .addHelpText('after', EXIT_CODES)
  .action(async (photos: string[], flags: MeasureFlags) => {
    process.exitCode = await (await import('./commands/measure.js')).measure(photos, flags)
  })

describeDesign(program.command('card').description('make the card to print on paper'))
  .addOption(new Option('--format <format>', 'kind of file').choices(['pdf', 'png', 'svg']).default('pdf'))
  .addOption(new Option('--paper <paper>', 'for PDF').choices(['a4', 'letter']).default('a4'))
  .addOption(output())
  .action(async (flags: DesignOptions & { format: 'pdf' | 'png' | 'svg'; paper: 'a4' | 'letter'; output?: string }) =>
    (await import('./commands/print.js')).card(flags),
  )

describeDesign(program.command('coupon').description('make the coupons to print in resin'))
  .addOption(new Option('--format <format>', 'kind of file').choices(['stl', '3mf']).default('3mf'))
  .option('--slot <number>', 'one slot only (default: all, into a folder)', whole)
  .addOption(output())
  .action(async (flags: DesignOptions & { format: 'stl' | '3mf'; slot?: number; output?: string }) =>
    (await import('./commands/print.js')).coupon(flags),
  )

describeDesign(program.command('kit').description('make one archive of coupons, cards and print order'))
  .addOption(output())
  .action(async (flags: DesignOptions & { output?: string }) => (await import('./commands/print.js')).kit(flags))

describeDesign(program.command('layout').description('print the geometry of coupon and card as JSON, in mm'))
  .addOption(new Option('--part <part>', 'one part only').choices(['coupon', 'card']))
  .action(async (flags: DesignOptions & { part?: 'coupon' | 'card' }) =>
    (await import('./commands/describe.js')).layout(flags),
  )

program
  .command('schema')
  .description('print the JSON Schema of what measure --json or layout prints, or of a setting sheet')
  .addArgument(program.createArgument('[what]').choices(['reading', 'layout', 'setting']).default('reading'))
  .action(async (what: 'reading' | 'layout' | 'setting') => (await import('./commands/describe.js')).schema(what))

addPlanningCommands(program)
addFinishCommands(program)

program
  .command('compare')
  .description('compare coupons by bottle, printer, exposure and the like, and each over time')
  .argument('<reading...>', 'what measure --json wrote, one file a photograph')
  .addOption(
    new Option('--by <what>', 'what the groups differ in')
      .choices(['bottle', 'batch', 'printer', 'exposure', 'post-cure', 'finish', 'ladder', 'level'])
      .makeOptionMandatory(),
  )
  .addOption(
    new Option('--of <response>', 'what is compared')
      .choices(['haze', 'surface', 'yellowness', 'score'])
      .default('haze'),
  )
  .option(
    '--label <file:name=value,...>',
    'what the coupons of a file are of, such as a.json:bottle=A,date=2026-02-01; a.json#3 is its slot 3; repeatable',
    (text: string, before: string[]) => [...before, text],
    [],
  )
  .option('--exposure-s <s>', 'only coupons of this exposure, s', positive)
  .option('--difference <size>', 'a difference that matters: tells the coupons that would show it', positive)
  .option('--power <share>', 'chance with which a difference shall show (default: 0.8)', positive)
  .option('--json', 'print the whole answer')
  .action(async (readings: string[], flags: CompareFlags) => {
    process.exitCode = await (await import('./commands/compare.js')).compare(readings, flags)
  })

program
  .command('sheet')
  .description('write the setting sheet or the bottle label of what a photograph suggests, to hand on')
  .argument('<photo>', 'a photograph, or what measure --json wrote')
  .addOption(output())
  .addOption(
    new Option('--form <form>', 'by default what the output is called').choices(['json', 'html', 'pdf', 'png', 'txt']),
  )
  .addOption(new Option('--paper <paper>', 'for PDF').choices(['a4', 'letter']).default('a4'))
  .addOption(new Option('--label <mm>', 'a label of that size, as PDF').choices(['50x25', '70x36', '100x50']))
  .option('--resin <name>')
  .option('--bottle <name>')
  .option('--batch <name>')
  .option('--printer <name>')
  .option('--made-by <name>', 'who hands it on (default: nobody is named)')
  .option('--note <text>', 'for whoever gets it')
  .option('--key <file>', 'Ed25519 private key as PEM to sign with, such as signing-key.pem of a data folder')
  .option('--simulated', 'the photograph is a simulation: the sheet says that it is good for no resin')
  .action(async (photo: string, flags: SheetFlags) => (await import('./commands/hand-on.js')).sheet(photo, flags))

program
  .command('take-in')
  .description('say what a sheet or a photographed label holds, and whether it was changed after signing')
  .argument('<file>', 'JSON, HTML or PDF of a sheet, or a picture of its code')
  .option('--json', 'print the sheet itself')
  .action(async (file: string, flags: { json?: boolean }) =>
    (await import('./commands/hand-on.js')).takeIn(file, flags),
  )

program
  .command('serve')
  .description('serve the interface to this machine, or with --host 0.0.0.0 to the network')
  .option('--port <number>', 'port (default: 8080)', whole)
  .option('--host <host>', 'address to listen on (default: 127.0.0.1)')
  .option('--passphrase <text>', 'what other machines must enter (default: a new one at each start)')
  .option('--data <folder>', 'where photographs and results are kept (default: data/ in the checkout)')
  .action(async ({ port, host, passphrase, data }: ServeFlags) => {
    const flags = { PORT: port?.toString(), HOST: host, PASSPHRASE: passphrase, DATA_FOLDER: data }
    const set = Object.fromEntries(Object.entries(flags).filter(([, value]) => value !== undefined))
    const [{ configurationFrom }, { serve }] = await Promise.all([import('./configuration.js'), import('./serve.js')])
    await serve(configurationFrom({ ...process.env, ...set }))
  })

program
  .command('backup')
  .description('write everything into one file, photographs and signing key too; the service may be running')
  .argument(
    '<file>',
    'zip to write; it must not be there yet. Keep it on another disk, and to yourself: the key is in it',
  )
  .option('--data <folder>', 'what to back up (default: data/ in the checkout)')
  .action(async (file: string, { data }: { data?: string }) =>
    (await import('./commands/backup.js')).backup(file, data),
  )

program
  .command('restore')
  .description('put a backup into an empty folder, exactly as it was, once every file of it was checked')
  .argument('<file>', 'what backup wrote')
  .option('--into <folder>', 'empty or new; nothing is overwritten (default: data/ in the checkout)')
  .action(async (file: string, { into }: { into?: string }) =>
    (await import('./commands/backup.js')).restore(file, into),
  )

await program.parseAsync().catch(endWith)
