import type { Words } from '../../language.js'
import type { work as english } from '../en/work.js'

/** Die Wörter der Teile einer Messung, die man erst öffnet. */
export const work: Words<typeof english> = {
  whatIf: {
    lead: 'Einen der Regler bewegen: was diese Leiter erwarten lässt, mit 95-%-Bändern.',
    exposure: 'Schichtbelichtung, s',
    layer: 'Schichthöhe, mm',
    slider: (label) => `${label}, Regler`,
    failed: 'Die Erwartung ließ sich nicht ausrechnen.',
    wait: 'Wird ausgerechnet',
    within: (exposure) => `${exposure} s liegt zwischen den Sprossen: aus den angepassten Kurven abgelesen.`,
    equivalent: (exposure, band, layer) =>
      `So viel angesammeltes Licht wie ${exposure} s (${band} s) bei ${layer} mm dieser Leiter.`,
    otherLayer:
      'Eine andere Schichthöhe ist immer eine Extrapolation, auch zwischen den Sprossen: sie nimmt an, dass nur das angesammelte Licht zählt. Drei Sprossen drucken, um sie zu bestätigen.',
    unknownDepth: 'Das Band ist breit, weil diese Leiter nicht zeigt, wie tief Licht reicht.',
    outsideTitle: 'Jenseits der Sprossen',
    below: (lowest) =>
      `Das ist weniger Licht als auf der untersten Sprosse (${lowest} s). Von Wachstum, Bestand und Trübung sagt die Leiter dort nichts; nur die Dosis in der Tiefe ist ausgerechnet. Dort eine Sprosse drucken.`,
    above: (highest) =>
      `Das ist mehr Licht als auf der obersten Sprosse (${highest} s). Von Wachstum, Bestand und Trübung sagt die Leiter dort nichts; nur die Dosis in der Tiefe ist ausgerechnet. Dort eine Sprosse drucken.`,
    band: (low, high) => `${low} bis ${high}`,
    growth: 'Wachstum je Seite, µm',
    printThrough: 'Durchdrucken, µm',
    haze: 'Trübung, unser relativer Index',
    safeLine: 'Wände stehen (95 %) ab, µm',
    safeSpace: 'Spalte bleiben offen (95 %) ab, µm',
    notKnown: 'das sagt diese Leiter nicht',
    survival: 'Aussicht auf Bestand nach Breite',
    width: 'Breite, mm',
    stands: 'Wand steht',
    opens: 'Spalt bleibt offen',
    percent: (value) => `${value} %`,
    allSurvived: 'Allen Wänden und Spalten dieser Leiter erging es gleich; eine Aussicht nach Breite gibt es nicht.',
    doseTitle: 'Angesammelte Dosis nach Tiefe',
    doseLead:
      'In einem dicken Teil, unter der Fläche, an der er endet; 1 ist die Dosis einer Schichtbelichtung an ihrer Oberfläche.',
    doseLabel: (face, deep) =>
      `Angesammelte Dosis gegen Tiefe: ${face} an der Fläche, ${deep} in der größten gezeigten Tiefe.`,
    doseX: 'Tiefe unter der Fläche (mm)',
    doseY: 'Dosis, eine Belichtung = 1',
    chartTitle: 'Wo das auf der Wachstumskurve liegt',
    chartLabel: (exposure, growth) => `Wachstumskurve dieser Leiter mit ${exposure} s markiert: ${growth}.`,
  },

  gates: {
    lead: 'Was die Kamera nach ihrem Sensor mit dem Bild gemacht hat, jeweils gegen die Grenze, ab der es die Unsicherheit erweitert oder die Messung beendet.',
    head: { gate: 'Prüfung', value: 'Gefunden', limit: 'Grenze', verdict: 'Ergebnis' },
    names: {
      overshoot: 'Heller Saum an schwarzen Kanten, Anteil des Sprungs',
      sharpening: 'Stärke der gefundenen Schärfungsmaske',
      'tone-misfit': 'Abweichung der Tonfelder, Anteil des Papierlichts',
      'noise-correlation': 'Ähnlichkeit des Rauschens drei Pixel weiter',
      'odd-edges': 'Schwarze Kanten anders als von einem Objektiv, Standardunsicherheiten',
      halo: 'Schein des Papiers um die schwarzen Scheiben',
    },
    passed: 'bestanden',
    failed: 'über der Grenze',
    notFound: 'nicht gemessen',
    none: 'Diese Messung entstand, bevor diese Prüfungen festgehalten wurden. Das Foto noch einmal lesen, um sie zu sehen.',
    sharpening: 'Gefundene und herausgerechnete Schärfung',
    sharpeningValue: (amount, radius) => `Stärke ${amount}, Radius ${radius} px`,
    noSharpening: 'keine',
  },

  tone: {
    lead: 'Gitter von bekanntem Schwarz auf der Karte sagen, wie dieses Foto Licht in Codewerte verwandelt hat. Jeder Punkt ist ein Gitter: sein Licht nach der Farbe und das Grau, das das Foto zeigt.',
    label: (misfit) =>
      `Codewert gegen Licht von Schwarz bis Papierweiß: die an dieses Foto angepasste Kurve, sRGB und die Gitter. ${misfit}`,
    misfit: (percent) => `Die Gitter liegen im Mittel ${percent} % des Papierlichts neben der Kurve.`,
    x: 'Licht, Papierweiß = 1',
    y: 'Codewert, Anteil des Vollausschlags',
    key: { fitted: 'an dieses Foto angepasst', srgb: 'sRGB', patch: 'ein Gitter der Karte' },
    exponent: 'Exponent neben sRGB',
    contrast: 'S-Form, 0: keine',
    inkGain: 'Ausbreitung des gedruckten Schwarz, je Kante',
    um: (value) => `${value} µm`,
    tableTitle: 'Jedes Gitter',
    head: {
      coverage: 'Schwarz',
      pitch: 'Teilung, mm',
      code: 'Mittlerer Codewert',
      expected: 'Licht nach Farbe',
      read: 'Gelesenes Licht',
    },
    percent: (value) => `${value} %`,
    none: 'Diese Messung entstand, bevor die Kurve festgehalten wurde. Das Foto noch einmal lesen, um sie zu sehen.',
  },

  pose: {
    lead: 'Wo jede schwarze Scheibe gesehen wurde, gegen den Ort, an dem die angepasste Kamera sie sähe. Pfeile von wenigen µm ohne Ordnung sind Rauschen; ein Muster heißt gewölbtes Papier oder eine Linse, die die Anpassung nicht beschreibt.',
    label: (rms, largest, times) =>
      `Karte mit einem Pfeil an jeder Scheibe. Quadratisches Mittel ${rms} µm, größter ${largest} µm, Pfeile ${times}-fach gezeichnet.`,
    times: (times) => `Die Pfeile sind ${times}-fach gezeichnet.`,
    x: 'Auf der Karte, mm',
    y: 'mm',
    scale: (um) => `${um} µm`,
    rms: 'Scheiben gegen Anpassung, quadratisches Mittel',
    largest: 'Größte',
    um: (value) => `${value} µm`,
    distortion: 'Verzeichnung der Linse, k1 und k2',
    printScale: 'Druck, Höhe durch Breite eines Quadrats',
    bow: 'Die Mitte des Papiers steht',
    bowValue: (mm) => `${mm} mm über den Rändern`,
    flat: 'keine Wölbung zu sehen',
    noScale: 'Die Breiten der Prüflinge hängen von nichts davon ab: die Teilung ihrer eigenen Linien ist der Maßstab.',
  },
}
