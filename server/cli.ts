import { Command } from 'commander'

const program = new Command('stepglass').description(
  'Measures a printed exposure ladder from one photograph and says which exposure to use',
)
program
  .command('serve')
  .description('serve the interface; PORT (8080) and HOST (127.0.0.1) say where')
  .action(async () => {
    await import('./main.js')
  })
await program.parseAsync()
