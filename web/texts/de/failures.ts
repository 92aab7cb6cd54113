const KEPT =
  'Nichts, dessen Empfang bestätigt wurde, ist verloren, und was gespeichert ist, lässt sich solange ansehen.'
const ADD_FIRST = 'Zuerst anlegen, was fehlt, dann noch einmal versuchen.'
const LOOK = 'In der Liste danach suchen; vielleicht liegt der Link zurück.'

/** Womit der Dienst ablehnen kann, außer aus Gründen der Messung: was schiefging, was zu tun ist. */
export const failures = {
  internal: [
    'In Stepglass ist etwas schiefgegangen.',
    'Noch einmal versuchen. Geschieht es wieder, sagt das Protokoll des Dienstes mehr.',
  ],
  'disk-full': [
    'Der Datenträger des Datenordners ist voll.',
    `Platz darauf schaffen, dann noch einmal versuchen. ${KEPT}`,
  ],
  'database-full': [
    'Der Datenträger der Datenbank ist voll.',
    `Platz darauf schaffen, dann noch einmal versuchen. ${KEPT}`,
  ],
  'data-read-only': [
    'In den Datenordner lässt sich nichts schreiben.',
    `Dem Benutzer, unter dem Stepglass läuft, dort Schreiben erlauben; ein Datenträger, der von selbst schreibgeschützt wurde, geht vielleicht kaputt. ${KEPT}`,
  ],
  'database-damaged': [
    'Ein Teil der Datenbank ist beschädigt.',
    'Die letzte Sicherung zurückholen (in einen leeren Ordner mit stepglass restore DATEI --into ORDNER, PostgreSQL mit dessen eigenen Mitteln) und das Beschädigte aufheben; was noch zu lesen ist, bleibt lesbar.',
  ],
  'database-read-only': [
    'Die Datenbank nimmt keine Änderungen an.',
    `DATABASE_URL auf den Server richten, der sie annimmt, nicht auf eine Kopie davon. ${KEPT}`,
  ],
  'database-away': [
    'Die Datenbank antwortet nicht.',
    'Sie starten, oder nach dem Netz zwischen hier und dort sehen, dann noch einmal versuchen. Nichts, dessen Empfang bestätigt wurde, ist verloren.',
  ],
  'disk-failing': [
    'Der Datenträger des Datenordners tut nicht, was er soll.',
    'Datenträger und Kabel prüfen, die Daten auf einem anderen sichern, dann Stepglass neu starten.',
  ],
  'not-ready': ['Die Datenbank antwortet nicht.', 'Das Protokoll des Dienstes sagt, warum.'],
  busy: ['Im Augenblick wird zu viel gelesen.', 'In einer Minute noch einmal versuchen.'],
  'too-many-waiting': ['Zu viele Fotos warten darauf, gelesen zu werden.', 'Dieses etwas später noch einmal senden.'],
  'ended-the-program': [
    'Das Lesen dieses Fotos hat das Programm mehrmals beendet.',
    'Das Foto als gewöhnliches JPEG speichern und noch einmal senden.',
  ],
  'took-too-long': [
    'Das Lesen dieses Fotos hat zu lange gedauert.',
    'Als JPEG in der Auflösung der Kamera noch einmal senden.',
  ],
  'too-much-memory': [
    'Das Lesen dieses Fotos brauchte zu viel Speicher.',
    'Als JPEG in der Auflösung der Kamera noch einmal senden.',
  ],
  'reader-ended': [
    'Das Lesen dieses Fotos brach ab.',
    'Das Foto als gewöhnliches JPEG speichern und noch einmal senden.',
  ],
  'no-picture': [
    'Diese Datei lässt sich nicht als Bild zeigen.',
    'Ein Foto mit höchstens 60 Megapixeln wählen: JPEG, PNG, WebP, TIFF, AVIF oder HEIC.',
  ],
  'no-photo': ['Es kam kein Foto an.', 'Ein Foto wählen und noch einmal senden.'],
  'empty-file': [
    'Die Datei ist leer.',
    'Das Foto noch einmal wählen; vielleicht war es noch nicht fertig gespeichert.',
  ],
  'damaged-file': ['Die Datei ist beschädigt.', 'Noch einmal senden oder um das Original bitten.'],
  'no-code': ['Auf dem Bild ist kein Code zu finden.', 'Den Code scharf und ganz im Bild fotografieren.'],
  'photo-too-large': [
    'Das Foto ist größer als 60 MB.',
    'So senden, wie das Telefon es gespeichert hat, als JPEG oder HEIC, nicht als Rohdatei.',
  ],
  'photo-missing': [
    'Die Datei dieses Fotos fehlt im Datenordner.',
    'Dasselbe Foto noch einmal senden oder die Datei aus einer Sicherung zurücklegen. Was daraus gelesen wurde, bleibt.',
  ],
  'damaged-form': ['Die Sendung brach ab oder ist unvollständig.', 'Noch einmal als Ganzes senden.'],
  'beyond-numbers': ['Mit diesen Zahlen lässt sich nicht mehr rechnen.', 'Die Zahlen und ihre Einheiten prüfen.'],
  'invalid-request': [
    'Eine dieser Angaben kann der Dienst nicht annehmen.',
    'Die Angaben prüfen; Zahlen müssen in ihren Grenzen liegen.',
  ],
  'levels-are-names': ['Die Stufen haben Namen.', 'Die Stufen selbst nennen, von grob nach fein.'],
  'levels-go-down': ['Die Stufen müssen ansteigen.', 'Eine höchste Stufe über der niedrigsten angeben.'],
  'no-such-layout': [
    'Aus diesen Angaben lässt sich kein Prüfling zeichnen.',
    'Schichthöhe, Maskenpixel und Belichtungen prüfen.',
  ],
  'no-such-ladder': ['Diese Leiter gibt es nicht.', LOOK],
  'no-such-reading': ['Diese Messung gibt es nicht.', LOOK],
  'no-such-photo': ['Dieses Foto gibt es nicht.', 'Zuerst hochladen.'],
  'no-such-upload': ['Diese Sendung ist nicht angekommen.', 'Das Foto noch einmal senden.'],
  'no-such-setting': ['Diese Einstellung gibt es nicht.', LOOK],
  'no-such-sheet': ['Dieses Blatt gibt es nicht.', LOOK],
  'no-such-link': [
    'Dieser Link führt nirgendwohin: abgelaufen, widerrufen oder nur zum Teil kopiert.',
    'Um einen neuen bitten.',
  ],
  'no-such-bottle': ['Diese Flasche gibt es nicht.', ADD_FIRST],
  'no-such-resin': ['Dieses Harz gibt es nicht.', ADD_FIRST],
  'no-such-printer': ['Diesen Drucker gibt es nicht.', ADD_FIRST],
  'no-such-report': ['Diesen Bericht gibt es nicht.', ADD_FIRST],
  'not-read-yet': ['Diese Messung ist noch nicht fertig.', 'Warten, bis sie gelesen ist.'],
  'no-sheet': ['Es kam keine Datei an.', 'Das Blatt als Datei wählen.'],
  'file-too-large': [
    'Die Datei ist zu groß für ein Einstellblatt.',
    'Das Blatt selbst wählen, oder ein Foto seines Codes in gewöhnlicher Größe.',
  ],
  'no-sheet-in-file': [
    'In dieser Datei steckt kein Einstellblatt.',
    'Noch einmal um das Blatt bitten, als Datei für Stepglass.',
  ],
  'not-a-sheet': ['Diese Datei ist kein Einstellblatt oder nur ein Teil davon.', 'Noch einmal um das Blatt bitten.'],
  'newer-sheet': [
    'Dieses Blatt kommt aus einer neueren Fassung von Stepglass.',
    'Stepglass auf den neuesten Stand bringen.',
  ],
  'sheet-changed': ['Dieses Blatt wurde nach dem Unterschreiben geändert.', 'Um das Original bitten.'],
  'sheet-too-large': ['Die Datei ist zu groß für ein Einstellblatt.', 'Das Blatt selbst wählen.'],
  'another-sheet': [
    'Ein Blatt dieses Namens ist schon hier und sagt etwas anderes.',
    'Eines der beiden wurde geändert: fragen, wer es gemacht hat, welches gilt.',
  ],
  'unusable-archive': ['Diese Datei lässt sich nicht einlesen.', 'Eine Datei wählen, die Stepglass ausgegeben hat.'],
  'too-much-for-one-file': [
    'Es ist mehr gespeichert, als in eine ZIP-Datei passt.',
    'Den Dienst anhalten und seinen Datenordner kopieren; darin ist alles.',
  ],
} as const satisfies Readonly<Record<string, readonly [string, string]>>

const FIELDS: Readonly<Record<string, string>> = {
  exposureS: 'Belichtung',
  exposuresS: 'Belichtungen',
  fromS: 'niedrigste Belichtung',
  toS: 'höchste Belichtung',
  lowS: 'unteres Ende',
  highS: 'oberes Ende',
  from: 'niedrigste Stufe',
  to: 'höchste Stufe',
  rungs: 'Sprossen',
  timeStepS: 'Zeitschritt',
  layerHeightUm: 'Schichthöhe',
  layerUm: 'Schichthöhe',
  fromUm: 'Schichthöhe vorher',
  toUm: 'Schichthöhe nachher',
  pixelPitchUm: 'Pixelgröße',
  temperatureC: 'Temperatur',
  resinC: 'Harztemperatur',
  roomC: 'Raumtemperatur',
  toleranceUm: 'Toleranz',
  smallestLineUm: 'dünnste Wand',
  smallestSpaceUm: 'engster Spalt',
  caliperMm: 'Messschieber',
  caliperUncertaintyMm: 'Unsicherheit des Messschiebers',
  turnedSlots: 'gedrehte Plätze',
  name: 'Name',
  note: 'Notiz',
  batch: 'Charge',
  openedOn: 'geöffnet am',
  date: 'Datum',
  storedAt: 'Lagerort',
  remainingMl: 'Rest',
  irradiance: 'Bestrahlungsstärke',
  irradianceMwPerCm2: 'Bestrahlungsstärke',
  fromMwPerCm2: 'Bestrahlungsstärke vorher',
  toMwPerCm2: 'Bestrahlungsstärke nachher',
  mwPerCm2: 'Bestrahlungsstärke',
  table: 'Tabelle',
  readings: 'Messungen',
  labels: 'Angaben zu den Prüflingen',
  thicknessMm: 'Dicke',
  lampW: 'Lampenleistung',
  viscosityPaS: 'Viskosität',
}
const LISTED = /^\d+$/

/** Welche Angaben es sind; ohne deutschen Namen so, wie der Dienst sie nennt. */
export function fields(paths: readonly string[]): string {
  const named = paths.flatMap((path) => {
    const name = path.split('/').findLast((part) => part !== '' && !LISTED.test(part))
    return name === undefined ? [] : [FIELDS[name] ?? name]
  })
  return named.length === 0 ? '' : `Es geht um: ${[...new Set(named)].join(', ')}.`
}
