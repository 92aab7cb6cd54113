const N = '([−-]?[\\d.]+(?:e[+-]?\\d+)?)'
/** Wie der Dienst sagt, was er gefunden hat, und dasselbe auf Deutsch; # ist eine Zahl, $n das n-te Gefundene. */
const patterns: readonly (readonly [english: string, german: string])[] = [
  ['# of # discs found, # needed', '$1 von $2 Scheiben gefunden, $3 nötig'],
  ['# of # discs lie outside the frame', '$1 von $2 Scheiben liegen außerhalb des Bildes'],
  ['# % of the features are clipped, at most # %', '$1 % der Rillen sind ausgebrannt, höchstens $2 %'],
  ['# cards in the picture', '$1 Karten im Bild'],
  ['# photographs', '$1 Fotos'],
  ['# coupons', '$1 Prüflinge'],
  ['# readings', '$1 Messungen'],
  ['# readings, # needed', '$1 Messungen, $2 nötig'],
  ['# coupons, # amounts', '$1 Prüflinge, $2 Mengen'],
  ['# different doses, 3 needed', '$1 verschiedene Dosen, 3 nötig'],
  ['# exposures, 3 needed', '$1 Belichtungen, 3 nötig'],
  ['# lines read', '$1 Zeilen gelesen'],
  [
    '# readable rungs at # exposures, # exposures needed',
    '$1 lesbare Sprossen bei $2 Belichtungen, $3 Belichtungen nötig',
  ],
  ['# of # coupons closed, the lowest at # s', '$1 von $2 Prüflingen geschlossen, der unterste bei $3 s'],
  ['# of # white places are off by up to # %', '$1 von $2 weißen Stellen weichen bis $3 % ab'],
  ['# coupons without a label, # without a reading of (?:.*)', '$1 Prüflinge ohne Angabe, $2 ohne diesen Messwert'],
  ['# sizes at # exposures were read', '$1 Maße bei $2 Belichtungen gelesen'],
  ['# x # pixels, at most # million', '$1 × $2 Pixel, höchstens $3 Millionen'],
  ['# x # pixels, shorter edge at least #', '$1 × $2 Pixel, kürzere Seite mindestens $3'],
  ['a pixel covers # um of the card, at most #', 'ein Pixel deckt $1 µm der Karte, höchstens $2'],
  ['contrast of the features #, at least #', 'Kontrast der Rillen $1, mindestens $2'],
  ['contrast #', 'Kontrast $1'],
  ['transmission #, at least #', 'Durchlass $1, mindestens $2'],
  ['printed scale #', 'gedruckter Maßstab $1'],
  [
    'height over width of a printed square #, at most # from 1',
    'Höhe zu Breite eines gedruckten Quadrats $1, höchstens $2 neben 1',
  ],
  ['its middle # mm above its edges, at most # mm', 'Mitte $1 mm über den Rändern, höchstens $2 mm'],
  ['its middle # mm below its edges, at most # mm', 'Mitte $1 mm unter den Rändern, höchstens $2 mm'],
  ['its middle # mm above its edges', 'Mitte $1 mm über den Rändern'],
  ['lowest rung # s grows by # [uµ]m per side', 'unterste Sprosse $1 s wächst $2 µm je Seite'],
  [
    'growth changes by # um from the lowest to the highest rung, u = # um(?:;.*)?',
    'von der untersten zur obersten Sprosse ändert sich das Wachstum um $1 µm, u = $2 µm',
  ],
  [
    'smallest growth between the rungs # um, tolerance # um',
    'kleinstes Wachstum zwischen den Sprossen $1 µm, Toleranz $2 µm',
  ],
  [
    'print-through rises by # um per ln\\(exposure\\), u = # um',
    'das Durchdrucken steigt um $1 µm je ln(Belichtung), u = $2 µm',
  ],
  ['depth changes by # um per ln\\(dose\\), u = # um', 'die Tiefe ändert sich um $1 µm je ln(Dosis), u = $2 µm'],
  ['print-through leaves less than 0.5 mm of the grooves', 'das Durchdrucken lässt weniger als 0,5 mm der Rillen'],
  ['no bars are seen through the window', 'durch das Fenster sind keine Balken zu sehen'],
  ['the reading gave no exposure', 'die Messung ergab keine Belichtung'],
  [
    'a line of # um does not stand at the highest exposure',
    'eine Wand von $1 µm steht bei der höchsten Belichtung nicht',
  ],
  ['a space of # um is closed at the lowest exposure', 'ein Spalt von $1 µm ist bei der niedrigsten Belichtung zu'],
  [
    'a line of # um stands from # s, a space of # um is open up to # s',
    'eine Wand von $1 µm steht ab $2 s, ein Spalt von $3 µm ist bis $4 s offen',
  ],
  ['no line of # um was printed, the narrowest is # um', 'keine Wand von $1 µm wurde gedruckt, die dünnste hat $2 µm'],
  ['no space of # um was printed, the narrowest is # um', 'kein Spalt von $1 µm wurde gedruckt, der engste hat $2 µm'],
  ['scatter # times what is stated, at most #', 'Streuung das $1-fache der angegebenen, höchstens $2'],
  ['all ladders are at # um', 'alle Leitern haben $1 µm'],
  ['a column holds times', 'eine Spalte enthält Zeiten'],
  [
    'edges blurred by # px \\(# um\\), at most # px and # um',
    'Kanten um $1 px ($2 µm) unscharf, höchstens $3 px und $4 µm',
  ],
  [
    'two ways of laying it explain the picture about as well: # and #',
    'zwei Lagen erklären das Bild etwa gleich gut: $1 und $2',
  ],
  ['white paper at # % of full scale, at most # %', 'weißes Papier bei $1 % des Bereichs, höchstens $2 %'],
  ['white paper at # % of full scale, at least # %', 'weißes Papier bei $1 % des Bereichs, mindestens $2 %'],
  [
    'growth by photo less growth by caliper # um per side, u = # um',
    'Wachstum nach dem Foto weniger dem nach dem Messschieber $1 µm je Seite, u = $2 µm',
  ],
  ['discs lie # px from the best pose', 'Scheiben liegen $1 px neben der besten Lage'],
  ["mirrored light is # of the paper's, at most #", 'gespiegeltes Licht $1 von dem des Papiers, höchstens $2'],
  [
    "mirrored light changes by # of the paper's across the target, at most #",
    'gespiegeltes Licht ändert sich über das Ziel um $1 von dem des Papiers, höchstens $2',
  ],
  ['fitted growth at # s is # um, u = # um', 'Wachstum nach dem Verlauf bei $1 s: $2 µm, u = $3 µm'],
  ['# degrees C, usual are # to #', '$1 °C, üblich sind $2 bis $3'],
  [
    '# and # degrees C; curing speeds up by roughly # % between them',
    '$1 und $2 °C; dazwischen wird das Härten etwa $3 % schneller',
  ],
  ['# and # um a pixel, at most # times apart', '$1 und $2 µm je Pixel, höchstens das $3-fache'],
  ['# % of the dose at the faces', '$1 % der Dosis an den Seiten'],
  ['# degrees C, wanted are # to #', '$1 °C, gewünscht sind $2 bis $3'],
  ['# degrees C around, limit #', '$1 °C ringsum, Grenze $2'],
  ['# min a face', '$1 min je Seite'],
  ['# mW/cm2 guessed from # W', '$1 mW/cm² aus $2 W geschätzt'],
]

/** Was gefunden wurde, auf Deutsch; nichts, wo es dafür keine Worte gibt. Zahlen noch mit Punkt. */
export function details(english: string): string | undefined {
  for (const [pattern, german] of patterns) {
    const found = new RegExp(`^${pattern.replaceAll('#', N)}$`).exec(english)
    if (found) return german.replaceAll(/\$(\d)/g, (_, place: string) => found[Number(place)] ?? '')
  }
  return undefined
}

/** Woher eine Unsicherheit kommt. */
export const sources: Readonly<Record<string, string>> = {
  'scatter of the lines': 'Streuung der Rillen',
  'blur that differs between coupons': 'Unschärfe, verschieden von Prüfling zu Prüfling',
  'view off the axis': 'Blick von der Seite',
  'ink and rim of the grooves': 'Tinte und Rand der Rillen',
  "rounding to the mask's pixels": 'Runden auf die Pixel der Maske',
  "the camera's tone curve": 'Tonkurve der Kamera',
  'sharpening by the camera': 'Nachschärfen der Kamera',
  'smoothing and local tone by the camera': 'Glätten und örtliche Helligkeit der Kamera',
  'reading of the caliper': 'Ablesen des Messschiebers',
  'error of the caliper': 'Fehler des Messschiebers',
  'shrinkage of the tab': 'Schrumpfen des Beins',
  'tone curves of the photographs, and how far these disagree': 'Tonkurven der Fotos, und wie weit sie uneins sind',
  'scatter between photographs': 'Streuung zwischen Fotos',
}
