#pragma once
#include "wording/row.hpp"

namespace platewright::wording {

/// What is wrong with a plate's shape as it was typed, pasted or read from a file: its outline,
/// heights, caliper and flex readings. And the handbook's woods.
inline constexpr auto k_shape_phrases = std::to_array<Row>({
    {"Reading {} (at {}, {} mm)", "Messung {} (bei {}, {} mm)", "La misura {} (a {}, {} mm)"},
    {"Reading {} (\"{}\")", "Messung {} („{}“)", "La misura {} («{}»)"},
    {"The readings look like inches (half of them are below {}): thickness is taken in mm. Nothing "
     "was stored.",
     "Die Messungen sehen nach Zoll aus (die Hälfte liegt unter {}): Stärken gelten in mm. Nichts "
     "wurde gespeichert.",
     "Le misure sembrano in pollici (metà sono sotto {}): lo spessore va in mm. Nulla è stato "
     "salvato."},
    {"The readings look like tenths of a millimetre (half of them are above {}): thickness is "
     "taken in mm. Nothing was stored.",
     "Die Messungen sehen nach Zehntelmillimetern aus (die Hälfte liegt über {}): Stärken gelten "
     "in mm. Nichts wurde gespeichert.",
     "Le misure sembrano in decimi di millimetro (metà sono sopra {}): lo spessore va in mm. Nulla "
     "è stato salvato."},
    {"{}: {} mm is no thickness. Nothing was stored.",
     "{}: {} mm ist keine Stärke. Nichts wurde gespeichert.",
     "{}: {} mm non è uno spessore. Nulla è stato salvato."},
    {"{}: {} mm is thinner than any plate; is it in inches? Nothing was stored.",
     "{}: {} mm ist dünner als jede Platte; sind es Zoll? Nichts wurde gespeichert.",
     "{}: {} mm è più sottile di qualsiasi piastra; sono pollici? Nulla è stato salvato."},
    {"{}: {} mm is thicker than any plate; was the decimal point left out? Nothing was stored.",
     "{}: {} mm ist dicker als jede Platte; fehlt das Komma? Nichts wurde gespeichert.",
     "{}: {} mm è più spesso di qualsiasi piastra; manca la virgola? Nulla è stato salvato."},
    {"{} lies outside the outline. Nothing was stored.",
     "{} liegt außerhalb des Umrisses. Nichts wurde gespeichert.",
     "{} sta fuori dal contorno. Nulla è stato salvato."},
    {"{} is at the same place as reading {}: keep one of the two ({} mm, {} mm). Nothing was "
     "stored.",
     "{} steht an derselben Stelle wie Messung {}: eine von beiden behalten ({} mm, {} mm). Nichts "
     "wurde gespeichert.",
     "{} sta nello stesso punto della misura {}: tenerne una sola ({} mm, {} mm). Nulla è stato "
     "salvato."},
    {"Line {} (\"{}\") is neither \"x, y, thickness\" nor \"place, thickness\". Nothing was "
     "stored.",
     "Zeile {} („{}“) ist weder „x, y, Stärke“ noch „Stelle, Stärke“. Nichts wurde gespeichert.",
     "La riga {} («{}») non è né «x, y, spessore» né «punto, spessore». Nulla è stato salvato."},
    {"Line {} (\"{}\"): x and y must be numbers in mm. Nothing was stored.",
     "Zeile {} („{}“): x und y müssen Zahlen in mm sein. Nichts wurde gespeichert.",
     "Riga {} («{}»): x e y devono essere numeri in mm. Nulla è stato salvato."},
    {"Line {} (\"{}\"): no place is called \"{}\". Nothing was stored.",
     "Zeile {} („{}“): keine Stelle heißt „{}“. Nichts wurde gespeichert.",
     "Riga {} («{}»): nessun punto si chiama «{}». Nulla è stato salvato."},
    {"A thickness map needs at least three readings; there is {}. Nothing was stored.",
     "Eine Stärkenkarte braucht mindestens drei Messungen; hier ist {}. Nichts wurde gespeichert.",
     "Una mappa degli spessori vuole almeno tre misure; ce n'è {}. Nulla è stato salvato."},
    {"A thickness map needs at least three readings; there are {}. Nothing was stored.",
     "Eine Stärkenkarte braucht mindestens drei Messungen; hier sind {}. Nichts wurde gespeichert.",
     "Una mappa degli spessori vuole almeno tre misure; ce ne sono {}. Nulla è stato salvato."},
    {"Line {} (\"{}\") is no height: give x, y and the height of the outside, in mm. Nothing was "
     "stored.",
     "Zeile {} („{}“) ist keine Höhe: x, y und die Höhe der Außenseite in mm angeben. Nichts wurde "
     "gespeichert.",
     "La riga {} («{}») non è un'altezza: dare x, y e l'altezza dell'esterno, in mm. Nulla è stato "
     "salvato."},
    {"The height in line {} lies outside the outline. Nothing was stored.",
     "Die Höhe in Zeile {} liegt außerhalb des Umrisses. Nichts wurde gespeichert.",
     "L'altezza nella riga {} sta fuori dal contorno. Nulla è stato salvato."},
    {"No line of it holds a height. Nothing was stored.",
     "Keine Zeile davon ist eine Höhe. Nichts wurde gespeichert.",
     "Nessuna riga contiene un'altezza. Nulla è stato salvato."},
    {"{}, span {} mm", "{}, Abstand {} mm", "{}, distanza {} mm"},
    {"The flex reading \"{}\" needs three supports or more that are not in a line. Nothing was "
     "stored.",
     "Die Biegemessung „{}“ braucht drei oder mehr Auflagen, die nicht in einer Linie liegen. "
     "Nichts wurde gespeichert.",
     "La misura di flessione «{}» vuole tre o più appoggi non in linea. Nulla è stato salvato."},
    {"The flex reading \"{}\" has a support off the plate at {}, {} mm. Nothing was stored.",
     "Die Biegemessung „{}“ hat eine Auflage neben der Platte bei {}, {} mm. Nichts wurde "
     "gespeichert.",
     "La misura di flessione «{}» ha un appoggio fuori dalla piastra a {}, {} mm. Nulla è stato "
     "salvato."},
    {"The flex reading \"{}\" has its load off the plate. Nothing was stored.",
     "Die Biegemessung „{}“ hat ihre Last neben der Platte. Nichts wurde gespeichert.",
     "La misura di flessione «{}» ha il carico fuori dalla piastra. Nulla è stato salvato."},
    {"The flex reading \"{}\": the load ({} g) must be more than nothing. Nothing was stored.",
     "Die Biegemessung „{}“: die Last ({} g) muss mehr als nichts sein. Nichts wurde gespeichert.",
     "La misura di flessione «{}»: il carico ({} g) dev'essere più di niente. Nulla è stato "
     "salvato."},
    {"The flex reading \"{}\": a deflection of {} mm can't be; it is taken in mm, downwards. "
     "Nothing was stored.",
     "Die Biegemessung „{}“: eine Durchbiegung von {} mm kann nicht sein; sie gilt in mm, nach "
     "unten. Nichts wurde gespeichert.",
     "La misura di flessione «{}»: una freccia di {} mm non può essere; va in mm, verso il basso. "
     "Nulla è stato salvato."},
    {"The length of the outline ({} mm) must be more than nothing.",
     "Die Länge des Umrisses ({} mm) muss mehr als nichts sein.",
     "La lunghezza del contorno ({} mm) dev'essere più di niente."},
    {"The upper width of the outline ({} mm) must be more than nothing.",
     "Die obere Breite des Umrisses ({} mm) muss mehr als nichts sein.",
     "La larghezza superiore del contorno ({} mm) dev'essere più di niente."},
    {"The waist width of the outline ({} mm) must be more than nothing.",
     "Die Taillenbreite des Umrisses ({} mm) muss mehr als nichts sein.",
     "La larghezza della vita ({} mm) dev'essere più di niente."},
    {"The lower width of the outline ({} mm) must be more than nothing.",
     "Die untere Breite des Umrisses ({} mm) muss mehr als nichts sein.",
     "La larghezza inferiore del contorno ({} mm) dev'essere più di niente."},
    {"The waist ({} mm) must be narrower than both bouts.",
     "Die Taille ({} mm) muss schmaler sein als beide Buge.",
     "La vita ({} mm) dev'essere più stretta di entrambi i lobi."},
    {"A bout is wider than the plate is long ({} mm): were the measures exchanged?",
     "Ein Bug ist breiter, als die Platte lang ist ({} mm): sind die Maße vertauscht?",
     "Un lobo è più largo di quanto la piastra sia lunga ({} mm): le misure sono scambiate?"},
    {"An outline needs at least 8 points round the plate; there are {}.",
     "Ein Umriss braucht mindestens 8 Punkte rings um die Platte; hier sind {}.",
     "Un contorno vuole almeno 8 punti intorno alla piastra; ce ne sono {}."},
    {"The outline crosses itself: the side from point {} ({}, {}) cuts the side from point {} ({}, "
     "{}). Give the points in the order in which they follow each other.",
     "Der Umriss kreuzt sich selbst: die Seite ab Punkt {} ({}, {}) schneidet die Seite ab Punkt "
     "{} ({}, {}). Die Punkte in der Reihenfolge angeben, in der sie aufeinander folgen.",
     "Il contorno incrocia sé stesso: il lato dal punto {} ({}, {}) taglia il lato dal punto {} "
     "({}, {}). Dare i punti nell'ordine in cui si seguono."},
    {"The outline is {} mm long; plates from 100 mm to 1400 mm are understood. Are the points in "
     "mm?",
     "Der Umriss ist {} mm lang; verstanden werden Platten von 100 mm bis 1400 mm. Sind die Punkte "
     "in mm?",
     "Il contorno è lungo {} mm; si accettano piastre da 100 mm a 1400 mm. I punti sono in mm?"},
    {"The outline encloses next to nothing: are points missing?",
     "Der Umriss umschließt so gut wie nichts: fehlen Punkte?",
     "Il contorno non racchiude quasi nulla: mancano dei punti?"},
    {"Line {} of the outline is not two numbers (x and y in mm): \"{}\".",
     "Zeile {} des Umrisses ist nicht zwei Zahlen (x und y in mm): „{}“.",
     "La riga {} del contorno non è due numeri (x e y in mm): «{}»."},
    {"The outline's SVG path can't be read: {}.",
     "Der SVG-Pfad des Umrisses ist nicht zu lesen: {}.",
     "Il tracciato SVG del contorno non si legge: {}."},
    {"it has more than one piece", "er hat mehr als ein Stück", "ha più di un pezzo"},
    {"the command '{}' is not understood (M L H V C S Q T Z are)",
     "der Befehl „{}“ wird nicht verstanden (M L H V C S Q T Z schon)",
     "il comando «{}» non è noto (M L H V C S Q T Z lo sono)"},
    {"a number is missing after '{}'", "nach „{}“ fehlt eine Zahl", "dopo «{}» manca un numero"},
    {"The drawing holds no path: draw the outline as one closed path, in mm.",
     "Die Zeichnung enthält keinen Pfad: den Umriss als einen geschlossenen Pfad in mm zeichnen.",
     "Il disegno non contiene tracciati: disegnare il contorno come un solo tracciato chiuso, in "
     "mm."},
    {"Or its line as cut: x, y a line, or an SVG path",
     "Oder seine Linie, wie geschnitten: x, y je Zeile, oder ein SVG-Pfad",
     "O la sua linea, com'è tagliata: x, y per riga, o un percorso SVG"},
    {"as drawn", "wie gezeichnet", "come disegnata"},
    {"it does not begin with M", "er beginnt nicht mit M", "non comincia con M"},
    {"An f-hole's line needs at least 8 points; there are {}.",
     "Die Linie eines F-Lochs braucht mindestens 8 Punkte; hier sind {}.",
     "La linea di una effe vuole almeno 8 punti; ce ne sono {}."},
    {"The f-hole's line crosses itself: the side from point {} ({}, {}) cuts the side from point "
     "{} ({}, {}).",
     "Die Linie des F-Lochs kreuzt sich selbst: die Seite ab Punkt {} ({}, {}) schneidet die Seite "
     "ab Punkt {} ({}, {}).",
     "La linea della effe incrocia sé stessa: il lato dal punto {} ({}, {}) taglia il lato dal "
     "punto {} ({}, {})."},
    {"The f-hole's line encloses next to nothing: is it in mm?",
     "Die Linie des F-Lochs umschließt so gut wie nichts: ist sie in mm?",
     "La linea della effe non racchiude quasi nulla: è in mm?"},
    {"The f-hole's SVG path can't be read: {}.", "Der SVG-Pfad des F-Lochs ist nicht zu lesen: {}.",
     "Il tracciato SVG della effe non si legge: {}."},
    {"F-holes need one closed line, or a right and a left one; there are {}.",
     "F-Löcher brauchen eine geschlossene Linie, oder eine rechte und eine linke; hier sind {}.",
     "Le effe vogliono una linea chiusa, oppure una destra e una sinistra; ce ne sono {}."},
    {"Both f-holes lie on one side of the middle line: draw one right and one left of it, or one "
     "alone.",
     "Beide F-Löcher liegen auf einer Seite der Mittellinie: eines rechts und eines links davon "
     "zeichnen, oder nur eines.",
     "Le due effe stanno dalla stessa parte della linea di mezzo: disegnarne una a destra e una a "
     "sinistra, o una sola."},
    {"Line {} of the f-hole is not two numbers (x and y in mm): \"{}\".",
     "Zeile {} des F-Lochs ist nicht zwei Zahlen (x und y in mm): „{}“.",
     "La riga {} della effe non è due numeri (x e y in mm): «{}»."},
    {"The f-holes that were drawn must lie on the plate, 2 mm or more off its edge and its middle "
     "line: x counts from the middle line, positive to the right as seen from the outside, y from "
     "the lower end, in mm.",
     "Die gezeichneten F-Löcher müssen auf der Platte liegen, 2 mm oder mehr von Rand und "
     "Mittellinie: x zählt von der Mittellinie, nach rechts positiv von außen gesehen, y vom "
     "unteren Ende, in mm.",
     "Le effe disegnate devono stare sulla piastra, a 2 mm o più dal bordo e dalla linea di mezzo: "
     "x si conta dalla linea di mezzo, positivo a destra visto da fuori, y dall'estremo inferiore, "
     "in mm."},
    {"Sitka spruce", "Sitka-Fichte", "abete di Sitka"},
    {"Engelmann spruce", "Engelmann-Fichte", "abete di Engelmann"},
    {"Norway spruce (tonewood)", "Fichte (Klangholz)", "abete rosso (di risonanza)"},
    {"Sugar maple", "Zuckerahorn", "acero da zucchero"},
    {"Red maple (near European sycamore in weight)", "Rotahorn (so schwer wie Bergahorn)",
     "acero rosso (peso dell'acero di monte)"},
    {"European maple (sycamore)", "Bergahorn", "acero di monte"},
    {"Poplar", "Pappel", "pioppo"},
    {"Willow", "Weide", "salice"},
    {"The table is in inches: convert it to mm. Nothing was stored.",
     "Die Tabelle ist in Zoll: in mm umrechnen. Nichts wurde gespeichert.",
     "La tabella è in pollici: convertirla in mm. Nulla è stato salvato."},
});

} // namespace platewright::wording
