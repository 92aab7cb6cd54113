import { readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, it } from 'vitest'
import { configurationFrom, configurationTable } from '../../server/configuration.js'
import { dataFiles } from '../../server/storage/data-files.js'
import { scratchFolder } from './support/service.js'

it('fills in what is not set, and takes an empty value as not set', () => {
  const configuration = configurationFrom({ PORT: '', READERS: '2', HOME: '/somewhere' })
  expect(configuration).toMatchObject({ PORT: 8080, HOST: '127.0.0.1', READERS: 2, LOG_LEVEL: 'warn' })
  expect(configuration).not.toHaveProperty('HOME')
  expect(configuration).not.toHaveProperty('PASSPHRASE')
})

it.each([
  [{ PORT: 'http' }, 'PORT'],
  [{ PORT: '70000' }, 'PORT'],
  [{ READERS: '0' }, 'READERS'],
  [{ READERS: '1.5' }, 'READERS'],
  [{ DATABASE_URL: 'mysql://here/it' }, 'DATABASE_URL'],
  [{ LOG_LEVEL: 'loud' }, 'LOG_LEVEL'],
  [{ PASSPHRASE_FILE: '/nowhere/at/all' }, 'PASSPHRASE_FILE'],
])('names what of %o cannot be used', (environment, name) => {
  expect(() => configurationFrom(environment)).toThrow(name)
})

it('names every value that cannot be used at once, and shows no secret one', () => {
  const read = () =>
    configurationFrom({ PORT: '-1', LOG_LEVEL: 'loud', PASSPHRASE: 'secret', DATABASE_URL: 'me:secret@host' })
  expect(read).toThrow(/PORT.*LOG_LEVEL|LOG_LEVEL.*PORT/s)
  expect(read).toThrow(/PASSPHRASE/)
  expect(read).not.toThrow(/secret/)
})

it('takes the passphrase from a file, and from the environment first', () => {
  const file = join(scratchFolder(), 'passphrase')
  writeFileSync(file, 'clear as glass\n')
  expect(configurationFrom({ PASSPHRASE_FILE: file }).PASSPHRASE).toBe('clear as glass')
  expect(configurationFrom({ PASSPHRASE_FILE: file, PASSPHRASE: 'clear as water' }).PASSPHRASE).toBe('clear as water')
})

it('is documented as it is', () => {
  const text = readFileSync('docs/running.md', 'utf8')
  const rows = (table: string) =>
    table
      .split('\n')
      .filter((line) => line.startsWith('|'))
      .map((line) => line.replaceAll(/ +/g, ' '))
  // Prettier pads the columns; the line below the head is all dashes.
  expect(rows(text).filter((row) => /^\| `[A-Z_]+` /.test(row))).toEqual(rows(configurationTable()).slice(2))
})

it('names in its documentation all that lies in a data folder', () => {
  const text = readFileSync('docs/running.md', 'utf8')
  const table = text.slice(text.indexOf('## The data folder'))
  for (const name of [...Object.values(dataFiles('')), 'before-version-N.sqlite'])
    expect(table).toMatch(new RegExp(`^\\| \`${name.replaceAll('.', '\\.')}/?\``, 'm'))
})
