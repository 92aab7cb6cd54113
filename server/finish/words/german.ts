import type { FinishWords } from './english.js'

const MEMORY = 'üblich in Werkstätten und Laboren, aus dem Gedächtnis'
const POCKET_GUIDE = 'NIOSH Pocket Guide to Chemical Hazards'

/** Dasselbe auf Deutsch. */
export const german: FinishWords = {
  first:
    'Die Sicherheitsdatenblätter von Harz, Lösemittel und Lack, örtliche Vorschriften und Fachleute gehen dieser Seite vor.',

  number: (value) => String(value).replace('.', ','),

  traveller: {
    date: 'Datum',
    name: 'Name',
    done: 'Fertig, wann',
    total: (time) => `Zusammen: ${time}`,
    untimed: 'und die Zeit der Schritte ohne Angabe',
    sheet: '(Datenblatt)',
    asAt: (place) => `wie bei ${place}`,
  },

  cautions: {
    skin: {
      title: 'Haut und Augen',
      text: 'Flüssiges Harz reizt Haut und Augen und kann eine bleibende Allergie auslösen: Handschuhe aus Nitril oder Neopren, kein Latex, Schutzbrille. Von der Haut mit Wasser und Seife, nie mit Lösemittel.',
      source: 'RadTech-Merkblatt zu UV-härtenden Stoffen (Handschuhe, Brille); der Rest aus dem Gedächtnis',
    },
    heat: {
      title: 'Heißes Harz',
      text: 'Harz nur sanft und geschlossen wärmen, unter 35 °C; keine Flamme, kein Ofen, keine heiße Stelle: heißes Harz kann von selbst fest werden und rauchen.',
      source: 'RadTech-Merkblatt (keine Flamme, nicht über 110 °C); der Rest aus dem Gedächtnis',
    },
    air: {
      title: 'Dämpfe',
      text: 'Lüften. Beim Waschen und Trocknen in Lösemittel entstehen mit Abstand die meisten Dämpfe.',
      source:
        'Bowers u. a. (NIOSH), Buildings 12 (2022) 1222: bis 36,8 mg/m³ beim Waschen und Trocknen, 0,1 beim Drucken',
    },
    waste: {
      title: 'Abfall',
      text: 'Harz, Waschflüssigkeit, Schleifschlamm und Tücher sind gefährlicher Abfall: was geht, mit Licht aushärten, den Rest sammeln, nichts in den Abfluss. Es gilt das Recht vor Ort.',
      source: 'Sicherheitsdatenblätter, Abschnitt 13 (vor dem Entsorgen aushärten); Recht vor Ort',
    },
    solvent: {
      title: 'Lösemittel brennt',
      text: 'Lösemittel brennt: Isopropanol entflammt ab 12 °C, sein Dampf ab 2,0 % in der Luft, Ethanol ab 13 °C und 3,3 %. Keine Flamme, kein Funke, keine Heizplatte; Deckel drauf, wenn es steht.',
      source: `${POCKET_GUIDE}: isopropyl alcohol (npgd0359), ethyl alcohol (npgd0262)`,
    },
    mist: {
      title: 'Nebel und Ultraschall',
      text: 'Brennbares Lösemittel nie sprühen, vernebeln oder beschallen, wo es sich entzünden kann: Nebel brennt auch unter dem Flammpunkt. Kein brennbares Lösemittel in die Wanne eines Ultraschallbads; höchstens ein kleines geschlossenes Becherglas in Wasser, wenn der Hersteller es erlaubt.',
      source: `${POCKET_GUIDE} (Klasse IB); Anleitungen von Ultraschallbädern`,
    },
    light: {
      title: 'Härtungslicht',
      text: 'Nie in Härtungslicht oder seine Spiegelung sehen: bei 365 nm erreichen 10 mW/cm² in 100 s die Tagesgrenze des Auges. Geschlossene Kammer mit Türschalter, oder eine Brille für diese Wellenlänge.',
      source: 'EU-Richtlinie 2006/25/EG und ICNIRP, Health Phys. 87 (2004) 171: 10 000 J/m² UVA auf das Auge in 8 h',
    },
    bath: {
      title: 'Lampe über Wasser',
      text: 'Keine Netzlampe über oder in ein offenes Bad, wenn sie nicht dafür gebaut ist: das Licht kommt von außerhalb des Gefäßes, der Stecker bleibt trocken.',
      source: MEMORY,
    },
    bulk: {
      title: 'Dickes Harz im Licht',
      text: 'Nie dicke Becher voll Harzrest auf einmal in starkem Licht oder Sonne härten: sie werden heiß genug zum Verbrennen. Dünne Schichten.',
      source: MEMORY,
    },
    dust: {
      title: 'Staub',
      text: 'Nur nass schleifen, mit Handschuhen: kein trockener Staub, er enthält unausgehärtetes Harz. Schlamm auffangen; nicht in den Abfluss.',
      source: MEMORY,
    },
    varnish: {
      title: 'Sprühlack',
      text: 'Sprühlack ist ein brennbares Aerosol: im Freien oder in der Kabine, Atemschutz gegen organische Dämpfe, kein Funke. Erst anfassen, wenn er ausgehärtet und trocken ist.',
      source: 'Sicherheitsdatenblätter von Sprühlacken, aus dem Gedächtnis',
    },
    sun: {
      title: 'Linsen in der Sonne',
      text: 'Klare Linsen, Kugeln und Flaschen können in der Sonne anzünden, was dahinter liegt: vom Fenster weg oder zugedeckt aufbewahren.',
      source:
        'East Sussex Fire & Rescue, nach Fire Research Station: 150 bis 200 Brände im Jahr in Großbritannien durch gebündelte Sonne',
    },
    use: {
      title: 'Lebensmittel und Haut',
      text: 'Nicht für Lebensmittel, Haut oder Medizin, außer das Harz ist dafür zugelassen: unausgehärtete Reste treten aus.',
      source: 'allgemeiner Wortlaut von Sicherheitsdatenblättern, aus dem Gedächtnis',
    },
  },

  steps: {
    prepare: {
      title: 'Vorbereiten',
      why: 'Kaltes Harz fließt schlecht und hält Blasen; ausgehärtete Krümel in der Wanne streuen Licht und drücken sich in die Folie.',
      checks: {
        vat: 'Wanne durch ein feines Sieb geleert, mit weichem Tuch gewischt, keine ausgehärteten Krümel',
        film: 'Folie sauber, trocken, klar, ohne Delle oder weißen Fleck',
        bottle: 'Flasche sanft gewendet, nicht geschüttelt: Schütteln macht Blasen',
        temperature: 'Harz und Raum bei 25 bis 30 °C',
        stood: 'Harz stand, bis die Blasen draußen sind',
      },
      waits: { stand: 'Harz steht' },
      measure: ['Harz °C', 'Raum °C', 'Flasche, Charge'],
    },
    print: {
      title: 'Drucken',
      why: 'Alle späteren Schritte erhalten nur die Klarheit, die die Belichtung gab.',
      checks: {
        exposure: 'Belichtung aus der letzten Leiter dieser Flasche',
        faces: 'Klare Flächen aufrecht oder flach, nicht dazwischen',
      },
      waits: {},
      measure: ['Belichtung s', 'Schicht mm'],
    },
    drain: {
      title: 'Abtropfen',
      why: 'Harz, das am Teil bleibt, geht in die Waschflüssigkeit, und was sie übrig lässt, härtet zu einer milchigen Haut.',
      checks: {
        tilt: 'Teil geneigt, dass Hohlräume leerlaufen',
        drips: 'Tropfen durch ein Sieb zurück in die Wanne, nicht in die Flasche',
      },
      waits: { drain: 'Teil tropft ab' },
      measure: [],
    },
    wash: {
      title: 'Waschen',
      why: 'Zu kurz lässt einen klebrigen Film; zu lang lässt Lösemittel ins Teil, das quillt, reißt und weiß wird.',
      checks: {
        first: 'Erstes Bad: gebrauchte Flüssigkeit',
        second: 'Zweites Bad: saubere Flüssigkeit',
        hollows: 'Hohlräume gespült, nirgends mehr der Glanz von nassem Harz',
      },
      waits: { first: 'Erstes Bad', second: 'Zweites Bad' },
      measure: ['Flüssigkeit, wie alt'],
    },
    dry: {
      title: 'Trocknen',
      why: 'Eingehärtetes Lösemittel gibt weiße Schleier; es muss draußen sein, bevor das Licht kommt.',
      checks: {
        blown: 'Abgeblasen, weg von Gesicht und Flamme',
        even: 'Fläche sieht gleichmäßig aus, ist weder kalt noch klebrig',
      },
      waits: { dry: 'Teil trocknet' },
      measure: [],
    },
    'post-cure': {
      title: 'Nachhärten',
      why: 'Licht in Stufen härtet das Teil; Hitze verzieht und vergilbt es, und mehr Licht als nötig vergilbt auch.',
      checks: {
        stages: 'Stufen und Wendungen wie geplant',
        turned: 'Teil bei jedem Ruf gewendet',
        warm: 'Teil zwischen den Stufen höchstens handwarm',
      },
      waits: {},
      measure: ['Höchste °C', 'Licht min', 'mW/cm²'],
    },
    smooth: {
      title: 'Glätten',
      why: 'Jeder Kratzer streut. Jede Körnung muss alle Spuren der vorigen nehmen, sonst kommen sie beim Polieren wieder.',
      checks: {
        across: 'Nass, jede Körnung quer zu den Spuren der letzten',
        washed: 'Zwischen den Körnungen gewaschen: ein grobes Korn verdirbt die nächste',
        wet: 'Nassprobe: was Wasser verdeckt, verdeckt auch Lack',
      },
      waits: {},
      measure: ['Letzte Körnung', 'Trübungsindex'],
    },
    coat: {
      title: 'Lackieren oder tauchen',
      why: 'Unter Lack mit fast der Brechzahl des Harzes verschwinden die Kratzer; seine eigene Fläche muss verlaufen.',
      checks: {
        clean: 'Fläche sauber, trocken, staubfrei',
        tried: 'Erst an einem Prüfling probiert: manche Lacke lassen Harz rissig werden',
        thin: 'Dünn, gleichmäßig, beim Trocknen abgedeckt',
      },
      waits: { level: 'Lack verläuft und trocknet' },
      measure: ['Schichten', 'Trübungsindex'],
    },
    age: {
      title: 'Aufheben und wieder ansehen',
      why: 'Harzteile vergilben über Monate; ein Prüfling aus derselben Flasche neben dem Teil zeigt, wie sehr.',
      checks: {
        bottle: 'Flasche zu, dunkel, 15 bis 30 °C',
        coupon: 'Prüfling mit Datum im Dunkeln aufgehoben',
        again: 'Nach einem Tag, einem Monat und einem halben Jahr gemessen',
      },
      waits: {},
      measure: ['Gelbfärbung nach einem Tag', 'nach einem Monat', 'nach einem halben Jahr'],
    },
  },

  sheet: {
    temperature: (window) => `Harz und Raum ${window} °C`,
    first: (liquid) => `Erstes Bad: ${liquid}, gebraucht`,
    second: (liquid) => `Zweites Bad: ${liquid}, sauber`,
    flash: (liquid, flashC) => `${liquid} entflammt ab ${flashC} °C: keine Flamme, kein Funke in der Nähe`,
    liquid: 'Waschflüssigkeit',
    washMost: (minutes) => `Höchstens ${minutes} min in der Flüssigkeit, alle Bäder zusammen`,
    light: 'Licht auf jeder Seite',
    lamp: (minutes, lamp) => `Mindestens ${minutes} min Licht auf jeder Seite${lamp}`,
    under: (what) => ` unter einer Lampe mit ${what}`,
    dose: (dose) => `${dose} J/cm² auf jeder Seite`,
    below: (limitC) => `Teil bleibt unter ${limitC} °C`,
    cool: (limitC) => `Beim Schleifen kühl gehalten, nie nahe ${limitC} °C, wo es weich wird`,
    index: (index) => `Lack mit einer Brechzahl um ${index}`,
    from: (value) => `ab ${value}`,
    to: (value) => `bis ${value}`,
    range: (low, high) => `bei ${low} bis ${high}`,
  },
}
