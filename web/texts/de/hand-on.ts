import type { Words } from '../../language.js'
import type { handOn as english } from '../en/hand-on.js'

export const handOn: Words<typeof english> = {
  link: 'Weitergeben',
  takeInLink: 'Eine aufnehmen',
  title: (exposure) => `${exposure} s weitergeben`,
  failed: 'Die Einstellung ließ sich nicht laden.',
  saveFailed: 'Das ging nicht.',

  make: {
    title: 'Ein Einstellungsblatt',
    text: 'Alles, was jemand anderes braucht, so wie es jetzt ist. Kein Ort, keine Kamera, keine andere Leiter steht darin.',
    madeBy: 'Ihr Name darauf (darf leer bleiben)',
    note: 'Ein Wort an die, die es bekommen',
    signed: 'Signieren, damit eine Änderung auffällt',
    photo: 'Mit einem kleinen Bild der Prüfstücke',
    button: 'Blatt erstellen',
    made: (sheetId) => `Blatt ${sheetId} ist erstellt.`,
  },

  sheets: {
    title: 'Erstellte Blätter',
    none: 'Noch keines.',
    name: (sheetId, day) => `Blatt ${sheetId}, ${day}`,
    forms: {
      pdf: 'Papier, A4',
      letter: 'Papier, Letter',
      html: 'Seite für eine Mail',
      png: 'Bild für einen Chat',
      json: 'Datei für Stepglass',
      txt: 'Text',
    },
    labels: 'Etikett für die Flasche',
    label: (size) => `${size.replace('x', ' × ')} mm`,
    share: 'Teilen',
    mail: 'Mail schreiben',
    copyText: 'Als Text kopieren',
    copied: 'Kopiert.',
  },

  links: {
    title: 'Links',
    text: 'Wer die Adresse hat, liest dieses eine Blatt und nichts sonst, solange dieser Dienst erreichbar ist.',
    days: 'Lebensdauer in Tagen',
    make: 'Link erstellen',
    newOne: 'Die Adresse, nur jetzt zu sehen:',
    copy: 'Kopieren',
    one: (created, expires, views) => `erstellt ${created}, bis ${expires}, ${views}-mal gesehen`,
    revoke: 'Widerrufen',
    revoked: 'widerrufen',
  },

  adapt: {
    title: 'Für einen anderen Drucker',
    printer: 'Drucker',
    own: 'Keiner von diesen',
    from: 'Licht dort, wo gemessen wurde, mW/cm²',
    to: 'Licht des anderen Druckers, mW/cm²',
    button: 'Übertragen',
    rungs: (exposures) => `Drei Sprossen, die zuerst zu drucken sind: ${exposures} s`,
    print: 'Diese Sprossen drucken',
  },

  beside: {
    title: 'Neben einer anderen Einstellung',
    other: 'Die andere',
    button: 'Vergleichen',
    what: 'Was',
    first: 'Diese',
    second: 'Die andere',
  },

  takeIn: {
    title: 'Eine Einstellung aufnehmen',
    text: 'Ein Blatt als Datei, Seite oder PDF, oder ein Foto eines Flaschenetiketts oder des Codes auf einem Blatt.',
    choose: 'Datei wählen oder fotografieren',
    working: 'Wird gelesen',
    failed: 'Nichts wurde aufgenommen.',
    done: (exposure) => `Aufgenommen: ${exposure} s, als erhalten gekennzeichnet.`,
    simulated: 'Sie stammt von einem simulierten Foto: ein Beispiel, für kein Harz gut.',
    open: 'Öffnen',
    nameKey: 'Wie soll heißen, wer mit diesem Schlüssel signiert',
    saveKey: 'Schlüssel merken',
    keySaved: 'Gemerkt.',
  },

  table: {
    title: 'Diese Einstellungen veröffentlichen',
    text: 'Alle Einstellungen dieser Liste als eine Tabelle, nach Drucker und Schichthöhe.',
    forms: { html: 'Seite', csv: 'CSV', json: 'JSON' },
  },
}
