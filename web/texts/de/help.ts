import type { Words } from '../../language.js'
import type { help as english } from '../en/help.js'

/** Hilfe: ein Thema zu jeder Zeichnung. */
export const help: Words<typeof english> = {
  title: 'Hilfe in Bildern',
  lead: 'Wie man Prüflinge mit Tinte füllt, auslegt, beleuchtet und fotografiert, und was hilft, wenn etwas abgelehnt wurde.',
  contents: 'Themen',
  seeHelp: 'Zeig mir, wie',
  explains: 'Hilft bei:',
  topics: {
    ink: {
      title: 'Tinte in die Rillen',
      text: [
        'Dünne, dunkle, wasserfeste Tinte läuft von selbst in die Rillen. Trocknen lassen, dann die Fläche mit kaum feuchtem Tuch quer zu den Rillen abwischen.',
        'Die Rillen bleiben bis an ihre Kanten dunkel, Fläche und Fenster sauber. Nicht bis zum Rand füllen.',
        'Handschuhe und frische Luft: auch Tinte und Reinigungsmittel haben Datenblätter.',
      ],
    },
    lay: {
      title: 'Prüflinge auslegen',
      text: [
        'Jeder Prüfling auf seinem Platz, auf seinen Beinen, die Tintenseite oben, die abgeschnittene Ecke am dicken Balken.',
        'Ein Prüfling, der so nicht liegen kann, wurde gespiegelt gedruckt: Spiegeln im Slicer abschalten.',
      ],
    },
    light: {
      title: 'Weiches Licht von der Seite',
      text: [
        'Ein Fenster oder eine Lampe hinter weißem Papier, flach von einer Seite. Kein Blitz, keine Lampe darüber: sie spiegelt sich in den Prüflingen.',
        'Das Papier ist auf dem Schirm weiß, aber nicht ausgebrannt. Sonst das Bild dunkler stellen (Belichtung −1).',
      ],
    },
    camera: {
      title: 'Die Kamera hoch und gerade halten',
      text: [
        'Etwa 40 cm über der Karte, parallel zu ihr, die ganze Karte mit allen schwarzen Scheiben im Bild. Lieber etwas zoomen als nah herangehen.',
        'Die Hauptkamera des Telefons in voller Auflösung, das Bild wie es kommt, nicht beschnitten.',
      ],
    },
    sharp: {
      title: 'Scharf, und so gelassen',
      text: [
        'Zum Scharfstellen auf die Karte tippen, mit beiden Händen halten oder auflegen, mehr Licht machen.',
        'HDR, Szenen und Verschönerung abschalten; ein Roh- oder einfacher Modus ist am besten. Die Originaldatei senden: Messenger verkleinern Bilder.',
      ],
    },
    card: {
      title: 'Die Karte, ganz und flach',
      text: [
        'Bei 100 % drucken, schwarz, auf mattes Papier. Die Ecken festkleben, damit sie flach liegt.',
        'Eine Karte im Bild, ihr Code unverdeckt.',
      ],
    },
    ladder: {
      title: 'Sprossen auf beiden Seiten',
      text: [
        'Wachstum steigt mit der Belichtung. Die Leiter braucht Sprossen, die zu klein, und solche, die zu groß drucken; die Antwort liegt dazwischen.',
        'Die Messung sagt, welche Leiter als Nächstes zu drucken ist. Gleiche Temperatur, gleicher Platz auf der Bauplatte, nur die Schichtbelichtung ändert sich.',
      ],
    },
    features: {
      title: 'Wände, die stehen, Spalte, die offen bleiben',
      text: [
        'Zu wenig Licht, und dünne Wände gehen verloren; zu viel, und schmale Spalte schließen sich. Gehen beide zugleich verloren, gibt keine Belichtung beides: dickere Wand, breiterer Spalt oder dünnere Schichten.',
      ],
    },
    window: {
      title: 'Ein sauberes Fenster',
      text: [
        'Keine Tinte, kein Fingerabdruck, Staub oder Schatten auf dem Fenster; die Balken darunter müssen zu sehen sein.',
        'Abwischen, womit das Datenblatt es erlaubt, und Staub erst kurz vor dem Foto wegblasen.',
      ],
    },
    caliper: {
      title: 'Das Bein messen',
      text: [
        'Das Bein neben der Marke, in der Mitte seiner Höhe, mit auf null gestelltem Messschieber. Noch einmal messen, wenn ein Prüfling herausfällt.',
      ],
    },
    compare: {
      title: 'Gleiches mit Gleichem vergleichen',
      text: [
        'Prüflinge einer Belichtung, gleich nachbehandelt, am besten alle Gruppen auf einer Karte. Bei jeder Leiter sagen, aus welcher Flasche und von welchem Drucker sie ist.',
        'Sind Fotos uneins, beide im selben Licht noch einmal aufnehmen.',
      ],
    },
    finish: {
      title: 'Nach dem Drucken',
      text: [
        'Erst waschen und trocknen, dann in Stufen aushärten, in kühlem Wasser oder Luft, zwischen den Stufen gedreht, damit das Teil kühl bleibt und bis zur Mitte aushärtet.',
        'Nass schleifen, von grob nach fein, jede Körnung, bis die Spuren der vorigen weg sind. Handschuhe, frische Luft, kein trockener Staub.',
        'Die Datenblätter von Harz und Lösemittel gehen diesen Zahlen vor.',
      ],
    },
    numbers: {
      title: 'Zahlen, die eine Kurve tragen',
      text: [
        'Mindestens drei verschiedene Belichtungen oder Tiefen mit ihren Einheiten, als Tabelle mit zwei Spalten.',
      ],
    },
    file: {
      title: 'Die richtige Datei',
      text: ['JPEG, HEIC, PNG, WebP, AVIF oder TIFF aus der Kamera, kein Bildschirmfoto und keine Rohdatei.'],
    },
    keeping: {
      title: 'Wenn sich nichts speichern lässt',
      text: [
        'Was bestätigt wurde, ist nicht verloren, und was noch zu lesen ist, lässt sich ansehen. Ein eben aufgenommenes Foto wartet auf diesem Gerät und wird noch einmal gesendet.',
        'Auf dem Rechner, auf dem Stepglass läuft: Platz auf dem Datenträger schaffen, dem Benutzer dort Schreiben erlauben, Datenträger und Kabel prüfen, nachsehen, ob die Datenbank läuft. Start und Protokoll nennen, was fehlt.',
        'Beschädigtes und Verlorenes kommt aus der letzten Sicherung zurück; ein verlorenes Foto auch, wenn dasselbe noch einmal gesendet wird.',
      ],
    },
    waiting: {
      title: 'Wenn ein Foto nicht gelesen wird',
      text: [
        'Fotos werden der Reihe nach gelesen. Warten zu viele, sendet diese Seite Ihres von selbst noch einmal, sobald Platz ist.',
        'Eines, an dem das Lesen abbricht, wird mit dem Grund aufgegeben, und die anderen gehen weiter. Als gewöhnliches JPEG in der Größe der Kamera speichern oder ein neues aufnehmen.',
      ],
    },
  },
}
