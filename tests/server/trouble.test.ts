import { expect, it } from 'vitest'
import { storageTrouble } from '../../server/storage/trouble.js'

const failed = (code: string, message = 'x') => Object.assign(new Error(message), { code })

// https://www.postgresql.org/docs/current/errcodes-appendix.html, errno(3) and https://sqlite.org/rescode.html
it.each([
  ['53100', 507, 'database-full'],
  ['25006', 503, 'database-read-only'],
  ['XX001', 500, 'database-damaged'],
  ['57P01', 503, 'database-away'],
  ['ECONNREFUSED', 503, 'database-away'],
  ['ENOSPC', 507, 'disk-full'],
  ['EDQUOT', 507, 'disk-full'],
  ['EROFS', 503, 'data-read-only'],
  ['EIO', 503, 'disk-failing'],
])('tells of %s as %i %s, with what to do, also when another error wraps it', (code, statusCode, name) => {
  const wrapped = new Error('while something was written', { cause: failed(code) })
  for (const error of [failed(code), wrapped]) {
    const trouble = storageTrouble(error)
    expect(trouble).toMatchObject({ statusCode, reply: { code: name } })
    expect(trouble?.reply.advice).toMatch(/[.]$/)
  }
})

it('speaks of the database where that is full or damaged, not of a folder', () => {
  for (const code of ['53100', 'XX001']) {
    const { message, advice } = storageTrouble(failed(code))!.reply
    expect(`${message} ${advice}`).not.toMatch(/folder/)
  }
})

it('takes nothing for trouble of the disk that is none', () => {
  expect(storageTrouble(failed('23505'))).toBeUndefined()
  expect(storageTrouble(failed('ECONNRESET', 'aborted'))).toBeUndefined()
  expect(storageTrouble('ENOSPC')).toBeUndefined()
})
