import fc from 'fast-check'

/** Text that means something to one interpreter or another. */
export const nastyText: fc.Arbitrary<string> = fc.oneof(
  fc.constantFrom(
    '',
    ' ',
    '\0',
    "' or 1=1 --",
    '"; drop table readings; --',
    "x' union select content from records --",
    '%',
    '_%_%_%_%_%_%_%_%',
    '\\',
    '*"near(',
    'NEAR/2 AND OR NOT "',
    '(a+)+$',
    `${'a'.repeat(5000)}!`,
    '../../../../etc/passwd',
    '..%2f..%2f..%2fetc%2fpasswd',
    '%2e%2e/%2e%2e/etc/passwd',
    '%c0%ae%c0%ae/',
    '..\\..\\windows\\win.ini',
    '/etc/passwd',
    'file:///etc/passwd',
    '__proto__',
    'constructor',
    'toString',
    '<script>alert(1)</script>',
    '${7*7}{{7*7}}',
    '%0d%0aset-cookie: a=b',
    '\u202e\ufeff\ud800',
    '%ff%fe',
    '%',
    'NaN',
    '-0',
    '1e309',
    '9007199254740993',
    '0x10',
    '1_000',
  ),
  fc.string({ unit: 'binary', maxLength: 60 }),
  fc.string({ unit: 'grapheme', maxLength: 20 }),
)

/** Without halves of characters, which no address can carry. */
export const sendable = (text: string): string => Buffer.from(text).toString()

const nastyNumber: fc.Arbitrary<number> = fc.oneof(
  fc.constantFrom(0, -0, 1e-308, 5e-324, 1e308, -1e308, 2 ** 31, 2 ** 53, -1, 1e21, 0.1, 1e-9),
  fc.double({ noNaN: true, noDefaultInfinity: true }),
)

const deep = (depth: number) => JSON.parse(`${'['.repeat(depth)}${']'.repeat(depth)}`) as unknown

/** A value of JSON in a place where another one is expected. */
export const nastyValue: fc.Arbitrary<unknown> = fc.oneof(
  nastyText,
  nastyNumber,
  fc.constantFrom(null, true, [], {}, [[]], [null], Array(3000).fill(0), Array(300).fill({}), deep(2000)),
  fc.jsonValue({ maxDepth: 3 }),
  fc.dictionary(
    fc.oneof(fc.constantFrom('__proto__', 'constructor', 'length'), nastyText),
    fc.jsonValue({ maxDepth: 1 }),
    {
      maxKeys: 3,
    },
  ),
)

/** The text of a body that is hardly JSON. */
export const nastyJson: fc.Arbitrary<string> = fc.oneof(
  fc.constantFrom(
    '',
    '{',
    '[',
    'null',
    '"x"',
    '1e999',
    '{"a":1,"a":2}',
    '{"__proto__":{"polluted":1}}',
    '{"constructor":{"prototype":{"polluted":1}}}',
    '{"\\u005f_proto__":{"polluted":1}}',
    '\ufeff{}',
    '{}{}',
    '[1,]',
    '{"a":"\\ud800"}',
    '['.repeat(100_000),
    `${'['.repeat(50_000)}${']'.repeat(50_000)}`,
    `${'{"a":'.repeat(20_000)}1${'}'.repeat(20_000)}`,
    `[${'0,'.repeat(100_000)}0]`,
    `{"a":${'9'.repeat(100_000)}}`,
    `{${Array.from({ length: 5000 }, (_, i) => `"k${i}":${i}`).join()}}`,
    `"${'x'.repeat(2_000_000)}"`,
  ),
  fc.string({ unit: 'binary', maxLength: 100 }),
  nastyValue.map((value) => JSON.stringify(value)),
)
