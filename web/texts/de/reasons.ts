import type { ReasonWords } from '../reason-words.js'

/** Jeder Grund, den die Messung nennen kann: Überschrift, was zu tun ist. */
export const reasons: ReasonWords = {
  'not-inked': [
    'Keine Tinte',
    'Diesen Prüfling mit Tinte füllen: dünne dunkle Tinte in die Rillen laufen lassen, trocknen, die Fläche sauber wischen.',
  ],
  'edges-not-found': [
    'Kanten nicht gefunden',
    'Den Prüfling gleichmäßig mit Tinte füllen, scharf stellen und aus der Nähe noch einmal fotografieren.',
  ],
  'no-contrast': [
    'Kein Kontrast',
    'Dunkle Tinte in die Rillen laufen lassen, die Fläche abwischen und noch einmal fotografieren.',
  ],
  'coupon-unclear': [
    'Prüfling nicht eindeutig',
    'Den Prüfling reinigen, neu mit Tinte füllen und gerade auf seinen Platz legen.',
  ],

  'slot-empty': ['Platz leer', 'Den Prüfling dieser Sprosse auf seinen Platz legen oder ohne ihn weitermachen.'],
  'coupon-turned': [
    'Prüfling verdreht',
    'Diesen Prüfling um eine halbe Drehung drehen, sodass seine abgeschnittene Ecke am dicken Balken liegt.',
  ],
  'coupon-mirrored': [
    'Prüfling gespiegelt',
    'Dieser Prüfling wurde gespiegelt gedruckt. Spiegeln im Slicer abschalten und neu drucken.',
  ],
  'not-read': ['Nicht gelesen', 'Diesen Prüfling noch einmal fotografieren.'],
  'left-out': ['Ausgelassen', 'Wieder hereinnehmen, wenn der Grund nicht mehr gilt.'],
  'no-rungs': ['Keine Sprosse gelesen', 'Die Karte noch einmal fotografieren; kein Prüfling war zu lesen.'],
  'no-readings': ['Keine Messungen', 'Mindestens ein Foto nehmen, das gelesen werden konnte.'],

  glare: [
    'Spiegelung',
    'In diesem Prüfling spiegelt sich eine Lampe: das Licht zur Seite rücken oder sich anders hinstellen.',
  ],
  'glare-in-window': [
    'Spiegelung im Fenster',
    'Im Fenster spiegelt sich eine Lampe oder helle Wand: das Licht zur Seite rücken oder sich anders hinstellen.',
  ],
  overexposed: [
    'Überbelichtet',
    'Das Papier ist ausgebrannt: das Bild dunkler stellen (Belichtung −1) und noch einmal fotografieren.',
  ],
  'too-dark': ['Zu dunkel', 'Mehr Licht machen und noch einmal fotografieren.'],
  'tone-unknown': [
    'Tonkurve unbekannt',
    'Die Tonfelder der Karte ergeben keine gemeinsame Tonkurve; das Wachstum ist unsicherer. Die Karte gleichmäßig beleuchten.',
  ],
  'photos-differ-in-light': [
    'Fotos in verschiedenem Licht',
    'Beide Fotos im selben Licht und mit derselben Belichtungskorrektur aufnehmen.',
  ],
  'photos-differ-in-mirrored-light': [
    'Fotos mit verschiedenen Spiegelungen',
    'Lampe, Wände und sich selbst bei beiden Fotos am selben Ort lassen.',
  ],

  'card-cropped': ['Karte abgeschnitten', 'Weiter zurückgehen, bis alle schwarzen Scheiben der Karte im Bild sind.'],
  'too-few-discs': [
    'Zu wenige Scheiben',
    'Die schwarzen Scheiben der Karte freilegen, gleichmäßig beleuchten und noch einmal fotografieren.',
  ],
  'pose-not-found': [
    'Lage der Karte nicht gefunden',
    'Die Karte flach hinlegen, alle Scheiben unverdeckt, und noch einmal von oben fotografieren.',
  ],
  'too-few-pixels': ['Zu wenige Pixel', 'Das Originalfoto senden, keine Vorschau und keine Kopie aus einem Messenger.'],
  'too-few-pixels-per-mm': [
    'Zu wenige Pixel je Millimeter',
    'Das Bild mit der Karte füllen oder in voller Auflösung fotografieren.',
  ],
  'photos-differ-in-scale': [
    'Fotos aus verschiedenem Abstand',
    'Beide Karten aus demselben Abstand fotografieren, jede bildfüllend.',
  ],
  'photos-differ-in-angle': ['Fotos aus verschiedenem Winkel', 'Bei beiden Fotos senkrecht über der Karte stehen.'],

  'out-of-focus': ['Unscharf', 'Ruhig halten und auf die Prüflinge scharf stellen; mehr Licht hilft.'],
  sharpened: [
    'Nachgeschärft',
    'Die Kamera hat dieses Bild nachgeschärft; das Wachstum ist etwas unsicherer. Ein Roh- oder einfacher Modus vermeidet das.',
  ],
  smoothed: [
    'Geglättet',
    'Die Kamera hat dieses Bild geglättet oder klein gespeichert, was Kanten verschiebt; das Wachstum ist unsicherer. Mit mehr Licht und im Roh- oder einfachen Modus aufnehmen und die Originaldatei senden.',
  ],
  'local-tone': [
    'Teile aufgehellt',
    'Die Kamera hat Teile dieses Bildes von sich aus heller und dunkler gemacht, was Kanten verschiebt; das Wachstum ist unsicherer. HDR und Szenen abschalten.',
  ],
  'photos-differ-in-finish': [
    'Fotos verschieden bearbeitet',
    'Beide mit derselben Kamera-App und denselben Einstellungen aufnehmen, am besten ohne Schärfen und Glätten (Roh- oder Profimodus).',
  ],

  'no-card': [
    'Keine Karte',
    'Keine Karte zu sehen. Die ganze Karte von oben und scharf fotografieren, ihren quadratischen Code unverdeckt.',
  ],
  'two-cards': ['Zwei Karten', 'Nur eine Karte auf einmal fotografieren.'],
  'other-code': ['Fremder Code', 'Eine Stepglass-Karte fotografieren: der Code in diesem Bild ist ein anderer.'],
  'newer-card': ['Neuere Karte', 'Stepglass aktualisieren: diese Karte stammt von einer neueren Version.'],
  'card-bowed': [
    'Karte gewölbt',
    'Die Karte lag nicht flach. Breiten hängen davon nicht ab, Schärfe und Blick auf die Prüflinge schon: auf etwas Flaches legen.',
  ],
  'card-stretched': [
    'Karte verzerrt gedruckt',
    'Der Drucker hat die Karte in einer Richtung gestreckt. Breiten hängen davon nicht ab; bei 100 % gedruckt stimmt sie.',
  ],
  'other-ladder': ['Andere Leiter', 'Nur Fotos derselben Karte zusammennehmen.'],

  'not-bracketed-low': [
    'Nach unten nicht eingegrenzt',
    'Niedrigere Belichtungen drucken: die unterste Sprosse ist noch zu groß.',
  ],
  'not-bracketed-high': [
    'Nach oben nicht eingegrenzt',
    'Höhere Belichtungen drucken: die oberste Sprosse ist noch zu klein.',
  ],
  'wrong-sign': [
    'Falsche Richtung',
    'Prüfen, ob jeder Prüfling auf dem Platz seiner eigenen Belichtung liegt, dann die Leiter noch einmal drucken.',
  ],
  flat: ['Kein Anstieg', 'Eine Leiter über einen weiteren Bereich von Belichtungen drucken.'],
  'too-few-rungs': ['Zu wenige Sprossen', 'Mindestens drei verschiedene Belichtungen drucken, die sich lesen lassen.'],
  'no-suggestion': ['Kein Vorschlag', 'Erst die Leiter drucken, die diese Messung verlangt.'],
  'no-dose-to-size': ['Keine Maßbelichtung', 'Erst die Leiter drucken, die diese Messung verlangt.'],
  'nothing-within-tolerance': [
    'Nichts innerhalb der Toleranz',
    'Andere Belichtungen drucken oder mehr Wachstum erlauben.',
  ],
  'no-rise-with-exposure': [
    'Kein Anstieg mit der Belichtung',
    'Eine Leiter über einen weiteren Bereich von Belichtungen drucken.',
  ],
  'temperatures-differ': [
    'Temperaturen verschieden',
    'Beide Leitern bei derselben Harztemperatur drucken, bevor man ihrem Unterschied traut.',
  ],
  'one-layer-height': ['Nur eine Schichthöhe', 'Eine Leiter mit einer anderen Schichthöhe drucken.'],
  'no-rule-fits': [
    'Keine Regel passt',
    'Schichthöhen und Belichtungen prüfen; waren Harz, Temperatur und Lampe dieselben?',
  ],
  'no-growth-with-dose': [
    'Kein Wachstum mit der Dosis',
    'Über einen weiteren Bereich von Dosen aushärten und die Tiefen noch einmal messen.',
  ],
  'too-few-doses': ['Zu wenige Dosen', 'Proben bei mindestens drei Dosen aushärten.'],

  closed: ['Geschlossen', 'Niedrigere Belichtungen drucken.'],
  'all-closed': ['Alle geschlossen', 'Niedrigere Belichtungen drucken: das Durchhärten hat die Rillen geschlossen.'],
  'wanted-line-lost': ['Gewünschte Wand steht nicht', 'Dickere Wände zeichnen oder höher belichten.'],
  'wanted-space-lost': ['Gewünschter Spalt schließt sich', 'Breitere Spalte zeichnen oder niedriger belichten.'],
  'wanted-size-not-printed': [
    'Gewünschtes Maß nicht gedruckt',
    'Ein größeres Maß verlangen: so schmal hat der Prüfling nichts.',
  ],
  'wanted-features-exclude-each-other': ['Wünsche schließen sich aus', 'Dickere Wände oder breitere Spalte zeichnen.'],
  'survival-not-read': ['Überleben nicht gelesen', 'Die schmalen Wände und Spalte scharf fotografieren.'],
  'survives-nowhere': ['Überlebt nirgends', 'Breiter zeichnen.'],
  'survives-throughout': ['Überlebt überall', 'Nichts zu tun.'],
  'larger-fails-sooner': [
    'Breites versagt zuerst',
    'Das Foto ansehen: Breites, das versagt, neben Schmalem, das überlebt, deutet auf Schaden oder Schmutz.',
  ],
  'no-trend-with-exposure': [
    'Kein Gang mit der Belichtung',
    'Eine Leiter über einen weiteren Bereich von Belichtungen drucken.',
  ],
  'too-few-sizes-or-rungs': [
    'Zu wenige Maße oder Sprossen',
    'Mindestens zwei Belichtungen drucken und ihre schmalen Wände und Spalte scharf fotografieren.',
  ],

  'window-dark': ['Fenster dunkel', 'Das Fenster reinigen und gleichmäßig beleuchten.'],
  'window-off-target': [
    'Fenster neben dem Ziel',
    'Den Prüfling gerade in die Ecken seines Platzes legen und senkrecht darüber stehen: das Fenster muss Balken und Felder bedecken.',
  ],
  'mark-in-window': [
    'Fleck im Fenster',
    'Über den Balken scheint eine Blase, Staub oder ein Fingerabdruck zu liegen: das Fenster abwischen und noch einmal fotografieren.',
  ],
  'shadow-over-window': [
    'Schatten über dem Fenster',
    'Ein Schatten scheint über das Fenster zu fallen: Lampe oder sich selbst verschieben und noch einmal fotografieren.',
  ],

  'caliper-disagrees': [
    'Messschieber widerspricht',
    'Messschieber und Foto sind uneins über die Größe der Prüflinge. Neu mit Tinte füllen und das Bein in der Mitte seiner Höhe messen, nicht am Fuß der ersten Schichten.',
  ],
  'caliper-not-used': [
    'Messschieber nicht verwendet',
    'Den Messwert eines Prüflings angeben, der auf diesem Foto gelesen wurde: seinen Platz und die Breite seines Beins.',
  ],

  'nothing-to-compare': [
    'Nichts zu vergleichen',
    'Messungen wählen, deren Fenster gelesen wurden, und sagen, wovon die Prüflinge sind.',
  ],
  'one-group': [
    'Nur eine Gruppe',
    'Prüflinge wählen, die sich darin unterscheiden, oder Messungen von mindestens sechs Tagen.',
  ],
  'exposures-differ': [
    'Belichtungen verschieden',
    'Die Gruppen wurden mit verschiedenen Belichtungen gedruckt: der Unterschied kann von der Belichtung kommen. Prüflinge gleicher Belichtung vergleichen.',
  ],
  'bottles-differ': [
    'Flaschen verschieden',
    'Jede Gruppe wurde aus eigenen Flaschen gedruckt: der Unterschied kann von der Flasche kommen.',
  ],
  'photos-stated': [
    'Zu wenige Fotos',
    'Die Gruppen liegen auf zu wenigen Fotos, um zu sehen, was ein Foto von sich aus verschiebt: der angegebene Betrag zählt. Prüflinge aller Gruppen auf einer Karte oder mehr Fotos machen den Bereich enger.',
  ],
  unlabelled: ['Ohne Angabe', 'Einige Prüflinge bleiben weg: niemand hat gesagt, wovon sie sind.'],
  unread: ['Nicht gelesen', 'Einige Prüflinge bleiben weg: sie waren nicht zu lesen.'],
  'photos-disagree': [
    'Fotos uneins',
    'Die Fotos sind über das Wachstum aller Prüflinge stärker uneins, als ihre Tonkurve erklärt; das schlechter scharfe, beleuchtete oder nachgeschärfte auslassen.',
  ],
  'coupons-disagree': [
    'Prüflinge uneins',
    'Die Fotos sind über die Unterschiede zwischen Prüflingen uneins: prüfen, ob jeder Prüfling jedes Mal auf demselben Platz lag, und das Foto auslassen, auf dem es nicht so war.',
  ],
  'no-scatter': ['Keine Streuung', 'Mit mehr Stellen messen.'],
  'too-few-readings': ['Zu wenige Messungen', 'An mehr Tagen fotografieren.'],

  'not-a-number': ['Keine Zahl', 'Zu jedem Prüfling eine Zahl in der genannten Einheit angeben.'],
  'one-level': ['Nur eine Stufe', 'Sagen, was mit jedem Prüfling geschah; mindestens zwei müssen sich unterscheiden.'],
  'one-amount': ['Nur eine Menge', 'Mindestens zwei verschiedene Mengen drucken oder behandeln und messen.'],
  'too-few-amounts': ['Zu wenige Mengen', 'Mehr Prüflinge bei mehr verschiedenen Mengen messen, auch einen ganz ohne.'],
  'two-scales': [
    'Zwei Skalen',
    'Auf die Skala auf dem Schleifbogen achten: gleiche Zahlen in P und JIS sind verschiedene Körnungen.',
  ],
  'no-numbers': ['Keine Zahlen', 'Zwei Spalten einfügen: Dosis in mJ/cm², Härtetiefe in µm.'],
  'irradiance-needed': [
    'Bestrahlungsstärke fehlt',
    'Die Bestrahlungsstärke in mW/cm² angeben oder Dosen in mJ/cm² einfügen.',
  ],
  'too-few-points': ['Zu wenige Messpunkte', 'Mehr Punkte bei verschiedenen Einstellungen messen.'],
  'dependent-columns': ['Nicht zu trennen', 'Bei mehr verschiedenen Einstellungen messen.'],
  'no-convergence': ['Keine Lösung gefunden', 'Mehr Prüflinge vergleichen.'],
  'no-maximum': ['Kein Maximum', 'Dort messen, wo der Ausgang gemischt ist.'],
  'not-converged': ['Keine Lösung gefunden', 'Mehr messen oder näher an der Lösung beginnen.'],
  'not-finite': ['Keine endliche Zahl', 'Mit anderen Werten beginnen.'],
  'parameters-not-determined': ['Nicht bestimmt', 'Mehr messen oder einige Werte festhalten.'],

  'resin-cold': [
    'Harz kalt',
    'Das Harz in seinen Bereich wärmen: geschlossene Heizung oder warmer Raum, langsam, keine Flamme, kein Ofen.',
  ],
  'resin-hot': [
    'Harz heiß',
    'Das Harz in seinen Bereich abkühlen lassen, weg von Hitze und Funken: heißes Harz kann von selbst fest werden.',
  ],
  'bath-too-warm': [
    'Bad zu warm',
    'Das Bad oder den Raum kühlen: das Teil kann nicht kälter sein als das, was es umgibt.',
  ],
  'too-hot': [
    'Zu heiß',
    'Unter kühlem Wasser härten, die Lampe schwächen oder weiter weg stellen: auch kurze Stufen überschreiten die Grenze.',
  ],
  'too-long': [
    'Zu lang',
    'Eine stärkere Lampe nehmen oder sie näher stellen: das Licht allein braucht länger als vier Stunden.',
  ],
  'middle-underdosed': [
    'Zu wenig Licht in der Mitte',
    'Die Mitte des Teils bekommt weniger als die Hälfte des Lichts seiner Seiten. Mehr Zeit vergilbt die Seiten, bevor sie die Mitte härtet.',
  ],
  'dry-after-water': [
    'Nach dem Wasser trocknen',
    'Das Teil nach dem Härten unter Wasser gut trocknen, sonst kann es quellen und milchig werden. Sauberes Wasser nehmen und wie Harzabfall behandeln.',
  ],
  'polish-follows': [
    'Politur folgt',
    'Mit einer Politur unter 1 µm Korn abschließen oder lackieren: kein Papier der Tabelle lässt so wenig Trübung wie gewünscht.',
  ],
  'scratch-depth-guessed': [
    'Kratzertiefe geraten',
    'Die Fläche nass machen, um zu sehen, was bleibt: Wasser verbirgt die Kratzer, die Lack verbirgt. Dem mehr trauen als den Zahlen.',
  ],
  'guessed-values': [
    'Werte geraten',
    'Die berechnete Temperatur für geraten halten, bis ein Thermometer an einem ersten Teil sie bestätigt.',
  ],
  'no-plateau': [
    'Kein Ende zu sehen',
    'Mehr Prüflinge messen, einige mit viel mehr davon: diese zeigen nicht, wo es aufhört zu steigen oder zu fallen.',
  ],
  'process-not-read': ['Nicht gelesen', 'Die Karte noch einmal fotografieren: zu wenige Fenster waren zu lesen.'],
  'trend-only': ['Nur ein Gang', 'Den Gang ablesen: keine Stufe genügt für sich.'],
  'no-gain-shown': [
    'Kein Gewinn gezeigt',
    'Weder Trübung noch Gelbfärbung zeigen einen Gewinn, der endet: mehr Prüflinge je Stufe oder Stufen weiter auseinander drucken.',
  ],
  'irradiance-guessed': [
    'Bestrahlungsstärke geraten',
    'Die Bestrahlungsstärke dort messen, wo das Teil liegt: die Temperatur beruht auf einer Schätzung aus der Leistung.',
  ],

  'not-an-image': ['Kein Bild', 'Ein Foto wählen: JPEG, PNG, WebP, TIFF, AVIF oder HEIC.'],
  'damaged-image': [
    'Bild beschädigt',
    'Die Datei ist abgeschnitten oder beschädigt: noch einmal von der Kamera senden.',
  ],
  'too-many-pixels': ['Zu viele Pixel', 'Das Foto mit höchstens 50 Megapixeln senden.'],
}
