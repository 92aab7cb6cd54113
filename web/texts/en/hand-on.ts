/** The words of handing a setting on and taking one in. */
export const handOn = {
  link: 'Hand it on',
  takeInLink: 'Take one in',
  title: (exposure: string) => `Hand on ${exposure} s`,
  failed: 'The setting could not be loaded.',
  saveFailed: 'That did not work.',

  make: {
    title: 'A setting sheet',
    text: 'Everything a colleague needs, as it is now. It holds no place, no camera and no other ladder.',
    madeBy: 'Your name on it (may stay empty)',
    note: 'A word to whoever gets it',
    signed: 'Sign it, so that a change shows',
    photo: 'With a small picture of the coupons',
    button: 'Make the sheet',
    made: (sheetId: string) => `Sheet ${sheetId} is made.`,
  },

  sheets: {
    title: 'Sheets made',
    none: 'None yet.',
    name: (sheetId: string, day: string) => `Sheet ${sheetId}, ${day}`,
    forms: {
      pdf: 'Paper, A4',
      letter: 'Paper, Letter',
      html: 'Page for a mail',
      png: 'Picture for a chat',
      json: 'File for Stepglass',
      txt: 'Text',
    },
    labels: 'Label for the bottle',
    label: (size: string) => `${size.replace('x', ' × ')} mm`,
    share: 'Share',
    mail: 'Write a mail',
    copyText: 'Copy as text',
    copied: 'Copied.',
  },

  links: {
    title: 'Links',
    text: 'Whoever has the address reads this one sheet, and nothing else, as long as this service can be reached.',
    days: 'Days it lives',
    make: 'Make a link',
    newOne: 'The address, shown only now:',
    copy: 'Copy',
    one: (created: string, expires: string, views: number) =>
      `made ${created}, until ${expires}, seen ${views === 1 ? 'once' : `${views} times`}`,
    revoke: 'Revoke',
    revoked: 'revoked',
  },

  adapt: {
    title: 'For another printer',
    printer: 'Printer',
    own: 'None of these',
    from: 'Light where it was measured, mW/cm²',
    to: 'Light of the other printer, mW/cm²',
    button: 'Carry it over',
    rungs: (exposures: string) => `Three rungs to print first: ${exposures} s`,
    print: 'Print these rungs',
  },

  beside: {
    title: 'Beside another setting',
    other: 'The other one',
    button: 'Compare',
    what: 'What',
    first: 'This one',
    second: 'The other',
  },

  takeIn: {
    title: 'Take a setting in',
    text: 'A sheet as file, page or PDF, or a photograph of a bottle label or of the code on a sheet.',
    choose: 'Choose a file or take a photograph',
    working: 'Reading it',
    failed: 'Nothing was taken in.',
    done: (exposure: string) => `Taken in: ${exposure} s, marked as received.`,
    simulated: 'It comes from a simulated photograph: an example, good for no resin.',
    open: 'Open it',
    nameKey: 'What to call whoever signs with this key',
    saveKey: 'Remember the key',
    keySaved: 'Remembered.',
  },

  table: {
    title: 'Publish these settings',
    text: 'All settings of this list as one table, by printer and layer height.',
    forms: { html: 'Page', csv: 'CSV', json: 'JSON' },
  },
}
