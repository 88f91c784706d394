#pragma once
#include "wording/row.hpp"

namespace platewright::wording {

/// What is printed: the bench sheet of a plate, an instrument's record of making, the sheet of a
/// wood; and the record as a page.
inline constexpr auto k_sheet_phrases = std::to_array<Row>({
    {"Bench sheet", "Werkblatt", "Foglio di banco"},
    {"Record of making", "Baubericht", "Storia dello strumento"},
    {"Wood sheet", "Holzblatt", "Foglio del legno"},
    {"{}, printed {}", "{}, gedruckt {}", "{}, stampa del {}"},
    {"page {}", "Seite {}", "pagina {}"},
    {"Platewright. Wood taken off can't be put back: small steps, and a fresh tapping between. "
     "Edges cut, wood dust harms: local rules decide.",
     "Platewright. Abgenommenes Holz kommt nicht zurück: kleine Schritte, dazwischen neu klopfen. "
     "Schneiden verletzen, Holzstaub schadet: örtliche Regeln gelten.",
     "Platewright. Il legno tolto non si rimette: piccoli passi, e ogni volta battere di nuovo. Le "
     "lame feriscono, la polvere nuoce: valgono le regole locali."},

    {"Plate", "Platte", "Piastra"},
    {"What next", "Wie weiter", "Come proseguire"},
    {"Body", "Korpus", "Cassa"},
    {"{} of “{}”, {}", "{} von „{}“, {}", "{} di «{}», {}"},
    {"Carved from", "Gemacht aus", "Ricavata da"},
    {"Density", "Dichte", "Densità"},
    {"{} kg/m³", "{} kg/m³", "{} kg/m³"},
    {"Length, widths", "Länge, Breiten", "Lunghezza, larghezze"},
    {"{}; {}, {}, {} mm", "{}; {}, {}, {} mm", "{}; {}, {}, {} mm"},
    {"Rings off upright", "Jahrringe aus der Senkrechten", "Anelli dalla verticale"},
    {"{}° left, {}° right", "{}° links, {}° rechts", "{}° a sinistra, {}° a destra"},
    {"Run-out", "Faserauslauf", "Deviazione della fibra"},
    {"{}°", "{}°", "{}°"},
    {"Arch, pieces", "Wölbung, Teile", "Bombatura, pezzi"},
    {"{} mm high; {}", "{} mm hoch; {}", "alta {} mm; {}"},
    {"{}, {} to {}", "{}, {} bis {}", "{}, dal {} al {}"},
    {"Stage", "Stand", "Stadio"},
    {"Mass", "Masse", "Massa"},
    {"{} g, from {} g", "{} g, von {} g", "{} g, da {} g"},
    {"{} g", "{} g", "{} g"},
    {"Instrument", "Instrument", "Strumento"},
    {"Begun", "Begonnen", "Iniziato"},
    {"Notes: {}", "Notizen: {}", "Note: {}"},

    {"Modes", "Moden", "Modi"},
    {"No modes have been found yet.", "Noch keine Moden gefunden.", "Nessun modo trovato finora."},
    {"Hz", "Hz", "Hz"},
    {"Q", "Q", "Q"},
    {"g", "g", "g"},
    {"°C", "°C", "°C"},
    {"spread", "Streuung", "scarto"},
    {"taps", "Schläge", "colpi"},
    {"Hz per g", "Hz je g", "Hz per g"},
    {"{} ({} to {})", "{} ({} bis {})", "{} (da {} a {})"},
    {"Frequencies in Hz. Spread: one standard deviation from tap to tap. ± and what is expected "
     "after so many grams less: intervals of 95 %; that rests on the sessions so far, not on where "
     "the wood comes off.",
     "Frequenzen in Hz. Streuung: eine Standardabweichung von Schlag zu Schlag. ± und was nach "
     "so vielen Gramm weniger zu erwarten ist: Bereiche von 95 %; das stützt sich auf die "
     "bisherigen "
     "Sitzungen, nicht darauf, wo das Holz abgenommen wird.",
     "Frequenze in Hz. Scarto: una deviazione standard da colpo a colpo. ± e quanto ci si aspetta "
     "dopo tanti grammi in meno: intervalli del 95 %; si basa sulle sessioni finora, non su dove "
     "si "
     "toglie il legno."},
    {"Frequencies in Hz. Spread: one standard deviation from tap to tap. Changes with 95 %. A0 is "
     "the air's mode, CBR the rhomboid of the middle bouts, B1− and B1+ the two lowest that bend "
     "the corpus.",
     "Frequenzen in Hz. Streuung: eine Standardabweichung von Schlag zu Schlag. Änderungen mit 95 "
     "%. A0 ist die Mode der Luft, CBR der Rhombus der Taille, B1− und B1+ die beiden tiefsten, "
     "die den Korpus biegen.",
     "Frequenze in Hz. Scarto: una deviazione standard da colpo a colpo. Variazioni al 95 %. A0 è "
     "il modo dell'aria, CBR il romboide della vita, B1− e B1+ i due più bassi che flettono la "
     "cassa."},
    {"Reference: {}.", "Vorbild: {}.", "Riferimento: {}."},

    {"Measured", "Gemessen", "Misurata"},
    {"{}, {} readings", "{}, {} Messwerte", "{}, {} misure"},
    {"Mean", "Mittel", "Media"},
    {"{} mm", "{} mm", "{} mm"},
    {"Middle, edge", "Mitte, Rand", "Centro, bordo"},
    {"{} and {} mm, ratio {}", "{} und {} mm, Verhältnis {}", "{} e {} mm, rapporto {}"},
    {"Left less right", "Links minus rechts", "Sinistra meno destra"},
    {"Thinnest", "Dünnste Stelle", "Punto più sottile"},
    {"{} ± {} mm at x {}, y {}", "{} ± {} mm bei x {}, y {}", "{} ± {} mm a x {}, y {}"},
    {"Mass by the map", "Masse nach der Karte", "Massa dalla mappa"},
    {"{} g with {} kg/m³ (its own)", "{} g mit {} kg/m³ (eigene)", "{} g con {} kg/m³ (propria)"},
    {"{} g with {} kg/m³ (handbook)", "{} g mit {} kg/m³ (Handbuch)",
     "{} g con {} kg/m³ (manuale)"},
    {"Weighed", "Gewogen", "Pesata"},
    {"Taken off", "Abgenommen", "Tolto"},
    {"{} mm on the mean since {}, most {} ± {} mm at x {}, y {}",
     "{} mm im Mittel seit {}, am meisten {} ± {} mm bei x {}, y {}",
     "{} mm in media dal {}, al massimo {} ± {} mm a x {}, y {}"},
    {"Places", "Orte", "Posizioni"},
    {"seen from outside: x from the centre line, positive to the right; y from the lower end, in "
     "mm",
     "von außen gesehen: x von der Mittellinie, nach rechts positiv; y vom unteren Ende, in mm",
     "visto da fuori: x dalla linea di mezzo, positivo a destra; y dall'estremo inferiore, in mm"},

    {"date", "Datum", "data"},
    {"stage", "Stand", "stadio"},
    {"moist. %", "Feuchte %", "umid. %"},
    {"% RH", "% rF", "% UR"},
    {"5 : 2", "5 : 2", "5 : 2"},
    {"Flex by hand", "Biegen von Hand", "Flessione a mano"},
    {"bent", "gebogen", "flessa"},
    {"span mm", "Stützweite mm", "luce mm"},
    {"load g", "Last g", "carico g"},
    {"gave mm", "gab nach mm", "cedette mm"},
    {"Pinned notes", "Angeheftete Notizen", "Note appuntate"},
    {"x mm", "x mm", "x mm"},
    {"y mm", "y mm", "y mm"},
    {"note", "Notiz", "nota"},
    {"Plan of {}", "Plan vom {}", "Piano del {}"},
    {"stood at", "stand bei", "era a"},
    {"wanted", "gewünscht", "voluto"},
    {"± is an interval of 95 %, from wood and model. Wood taken off can't be put back: take one "
     "pass, then tap and plan again. Scrapers and gouges cut: the work is fixed, both hands behind "
     "the edge. Wood dust is a known cause of nasal cancer and of asthma: extract it and wear a "
     "mask. Local rules and training decide.",
     "± ist ein Bereich von 95 %, aus Holz und Modell. Abgenommenes Holz kommt nicht zurück: einen "
     "Durchgang nehmen, dann klopfen und neu planen. Ziehklingen und Hohleisen schneiden: das "
     "Werkstück ist eingespannt, beide Hände hinter der Schneide. Holzstaub ist eine bekannte "
     "Ursache von Nasenkrebs und Asthma: absaugen und Maske tragen. Örtliche Regeln und Ausbildung "
     "gelten.",
     "± è un intervallo del 95 %, da legno e modello. Il legno tolto non si rimette: fare una "
     "passata, poi battere e pianificare di nuovo. Rasiere e sgorbie tagliano: il pezzo è "
     "bloccato, le mani dietro il filo. La polvere di legno è causa nota di tumore nasale e di "
     "asma: aspirarla e portare la maschera. Valgono le regole locali e la formazione."},

    {"Where to take wood", "Wo Holz abgenommen wird", "Dove togliere legno"},
    {"The next pass, seen from the inside, scroll end up: left and right are as they lie before "
     "you. Fine lines part the places named below; figures are depths in mm.",
     "Der nächste Durchgang, von innen gesehen, Schneckenende oben: links und rechts, wie sie vor "
     "Ihnen liegen. Feine Linien teilen die unten genannten Stellen; Zahlen sind Tiefen in mm.",
     "La prossima passata, vista dall'interno, estremo del riccio in alto: sinistra e destra come "
     "stanno davanti a voi. Le linee sottili dividono i posti detti sotto; i numeri sono "
     "profondità in mm."},
    {"seen from the inside", "von innen gesehen", "vista dall'interno"},
    {"seen from the inside, bass side left", "von innen gesehen, Bassseite links",
     "vista dall'interno, lato bassi a sinistra"},
    {"seen from the inside, bass side right", "von innen gesehen, Bassseite rechts",
     "vista dall'interno, lato bassi a destra"},
    {"seen from the outside, bass side left", "von außen gesehen, Bassseite links",
     "vista da fuori, lato bassi a sinistra"},
    {"seen from the outside, bass side right", "von außen gesehen, Bassseite rechts",
     "vista da fuori, lato bassi a destra"},
    {"where, from the inside", "wo, von innen", "dove, dall'interno"},
    {"mean mm", "Mittel mm", "media mm"},
    {"deepest mm", "tiefste mm", "massimo mm"},
    {"there, from the lower end, mm", "dort, vom unteren Ende, mm",
     "lì, dall'estremo inferiore, mm"},
    {"from the centre line, mm", "von der Mittellinie, mm", "dalla linea di mezzo, mm"},
    {"{} left", "{} links", "{} a sinistra"},
    {"{} right", "{} rechts", "{} a destra"},
    {"on it", "darauf", "su di essa"},
    {"In all {} g are to come off, {} g of it in the next pass.",
     "Insgesamt sind {} g abzunehmen, davon {} g im nächsten Durchgang.",
     "In tutto sono da togliere {} g, di cui {} g nella prossima passata."},
    {"by an earlier version of the model", "nach einer früheren Fassung des Modells",
     "secondo una versione precedente del modello"},
    {"This plan is older than the session of {}: plan anew before any wood is taken.",
     "Dieser Plan ist älter als die Sitzung vom {}: neu planen, bevor Holz abgenommen wird.",
     "Questo piano è più vecchio della sessione del {}: rifare il piano prima di togliere legno."},
    {"Where to take wood can't be drawn: {}",
     "Wo Holz abzunehmen ist, lässt sich nicht zeichnen: {}",
     "Non si può disegnare dove togliere legno: {}"},
    {"it was made with limits of its own, which were not kept",
     "er wurde mit eigenen Grenzen gemacht, die nicht aufbewahrt sind",
     "è stato fatto con limiti propri, che non sono conservati"},
    {"air at {} % RH", "Luft bei {} % rF", "aria al {} % UR"},
    {"air from {} to {} % RH", "Luft von {} bis {} % rF", "aria dal {} al {} % UR"},
    {"air not noted", "Luft nicht notiert", "aria non annotata"},

    {"Species", "Holzart", "Specie"},
    {"another", "eine andere", "un'altra"},
    {"Origin", "Herkunft", "Provenienza"},
    {"Tests", "Proben", "Prove"},
    {"Figures at", "Werte bei", "Valori a"},
    {"the moisture of each day", "der Feuchte jedes Tages", "l'umidità di ogni giorno"},
    {"Carved from it", "Daraus gemacht", "Ricavate da esso"},
    {"Constants", "Kennwerte", "Costanti"},
    {"figure", "Wert", "grandezza"},
    {"value", "Betrag", "valore"},
    {"± (95 %)", "± (95 %)", "± (95 %)"},
    {"handbook", "Handbuch", "manuale"},
    {"% of it", "% davon", "% di esso"},
    {"spreads apart", "Streuungen entfernt", "scarti di distanza"},
    {"stiffness along the grain, GPa", "Steifigkeit längs der Faser, GPa",
     "rigidezza lungo la fibra, GPa"},
    {"stiffness across, GPa", "Steifigkeit quer, GPa", "rigidezza attraverso, GPa"},
    {"shear stiffness, GPa", "Schubsteifigkeit, GPa", "rigidezza di taglio, GPa"},
    {"speed of sound along, m/s", "Schallgeschwindigkeit längs, m/s",
     "velocità del suono lungo la fibra, m/s"},
    {"speed of sound across, m/s", "Schallgeschwindigkeit quer, m/s",
     "velocità del suono attraverso, m/s"},
    {"radiation ratio, m⁴/(kg s)", "Abstrahlzahl, m⁴/(kg s)", "rapporto di radiazione, m⁴/(kg s)"},
    {"Q of bending along", "Q der Biegung längs", "Q della flessione lungo"},
    {"Q of bending across", "Q der Biegung quer", "Q della flessione attraverso"},
    {"Q of the twist", "Q der Drillung", "Q della torsione"},
    {"From all tests together. The handbook's is the mean of the species at 12 % moisture; trees "
     "of one species differ by a tenth in density and a fifth in stiffness.",
     "Aus allen Proben zusammen. Das Handbuch gibt das Mittel der Art bei 12 % Feuchte; Bäume "
     "einer Art unterscheiden sich um ein Zehntel in der Dichte und ein Fünftel in der "
     "Steifigkeit.",
     "Da tutte le prove insieme. Il manuale dà la media della specie al 12 % di umidità; alberi di "
     "una specie differiscono di un decimo in densità e di un quinto in rigidezza."},
    {"No figure can be told yet: weigh a piece, measure it and tap it.",
     "Noch ist kein Wert bekannt: ein Stück wiegen, messen und anschlagen.",
     "Nessun valore è ancora noto: pesare un pezzo, misurarlo e batterlo."},
    {"Beside {}: {} spreads apart; two trees met by chance are about 1.4 apart.",
     "Neben {}: {} Streuungen entfernt; zwei zufällige Bäume liegen etwa 1,4 auseinander.",
     "Accanto a {}: {} scarti di distanza; due alberi presi a caso distano circa 1,4."},
    {"A plate of it to be like one of {}, in % of that one's thickness: {}.",
     "Eine Platte daraus, um einer aus {} zu gleichen, in % von deren Stärke: {}.",
     "Una piastra di esso per essere come una di {}, in % dello spessore di quella: {}."},
    {"It would weigh {} % of the other if as stiff in the mean.",
     "Im Mittel gleich steif wöge sie {} % der anderen.",
     "Con la stessa rigidezza media peserebbe il {} % dell'altra."},
    {"piece", "Stück", "pezzo"},
    {"along mm", "längs mm", "lungo mm"},
    {"across mm", "quer mm", "traverso mm"},
    {"thick mm", "dick mm", "spesso mm"},
    {"motions", "Bewegungen", "moti"},
    {"{}: {} Hz", "{}: {} Hz", "{}: {} Hz"},
    {"{}: {} Hz, Q {}", "{}: {} Hz, Q {}", "{}: {} Hz, Q {}"},
    {"typed", "getippt", "digitato"},
    {"{} session of {}, {} to {}", "{} Sitzung: {}, {} bis {}", "{} sessione di {}, dal {} al {}"},
    {"{} sessions of {}, {} to {}", "{} Sitzungen: {}, {} bis {}",
     "{} sessioni di {}, dal {} al {}"},
    {"{} to {} g", "{} auf {} g", "da {} a {} g"},
    {"{} from {} to {} Hz", "{} von {} auf {} Hz", "{} da {} a {} Hz"},
    {"A tap", "Ein Schlag", "Un colpo"},
    {"A tap, {}", "Ein Schlag, {}", "Un colpo, {}"},
    {"From the first session to the last", "Von der ersten Sitzung bis zur letzten",
     "Dalla prima sessione all'ultima"},
    {"All modes of the last session", "Alle Moden der neuesten Sitzung",
     "Tutti i modi dell'ultima sessione"},
    {"x {}, y {}: {} mm", "x {}, y {}: {} mm", "x {}, y {}: {} mm"},
    {"How each mode moved from session to session. Point at a mark to read it; it leads to its "
     "session.",
     "Wie jede Mode von Sitzung zu Sitzung wanderte. Auf ein Zeichen zeigen, um es zu lesen; es "
     "führt zu seiner Sitzung.",
     "Come ogni modo si spostò di sessione in sessione. Indicare un segno per leggerlo; porta alla "
     "sua sessione."},
    {"Thickness in mm, seen from outside. Point at a mark to read what the caliper said there.",
     "Stärke in mm, von außen gesehen. Auf ein Zeichen zeigen, um zu lesen, was der Taster dort "
     "sagte.",
     "Spessore in mm, visto da fuori. Indicare un segno per leggere che cosa disse lì lo "
     "spessimetro."},
    {"No session has been kept yet.", "Noch keine Sitzung aufbewahrt.",
     "Nessuna sessione ancora conservata."},
    {"Frequencies in Hz, each with an interval that holds it with 95 %; in brackets the change "
     "since the session before. The taps are as the microphone heard them, made equally loud. "
     "Frequencies promise no tone.",
     "Frequenzen in Hz, jede mit einem Bereich, der sie mit 95 % enthält; in Klammern die Änderung "
     "seit der Sitzung davor. Die Schläge sind, wie das Mikrofon sie hörte, gleich laut gemacht. "
     "Frequenzen versprechen keinen Klang.",
     "Frequenze in Hz, ciascuna con un intervallo che la contiene al 95 %; tra parentesi la "
     "variazione dalla sessione scorsa. I colpi sono come li sentì il microfono, resi ugualmente "
     "forti. Le frequenze non promettono un suono."},
    {"Written {} by Platewright {}.", "Geschrieben am {} von Platewright {}.",
     "Scritto il {} da Platewright {}."},
    {"“{}” could not be written. Check the folder and the free space; what stood there before is "
     "as it was.",
     "„{}“ konnte nicht geschrieben werden. Den Ordner und den freien Platz prüfen; was vorher da "
     "stand, ist, wie es war.",
     "Non si è potuto scrivere «{}». Controllare la cartella e lo spazio libero; ciò che c'era "
     "prima è com'era."},
});

} // namespace platewright::wording
