#pragma once
#include "wording/row.hpp"

namespace platewright::wording {

/// The wood in stock: its pieces, what they tell, and which is like which.
inline constexpr auto k_wood_phrases = std::to_array<Row>({
    {"Wood", "Holz", "Legno"},
    {"billet", "Rohling", "massello"},
    {"wedge", "Keil", "spicchio"},
    {"bar", "Stab", "barra"},
    {"board", "Brett", "tavoletta"},
    {"bending along the grain", "Biegung längs der Faser", "flessione lungo la fibra"},
    {"bending across the grain", "Biegung quer zur Faser", "flessione attraverso la fibra"},
    {"sound along the grain", "Schall längs der Faser", "suono lungo la fibra"},
    {"sound across the grain", "Schall quer zur Faser", "suono attraverso la fibra"},
    {"E along", "E längs", "E lungo"},
    {"E across", "E quer", "E traverso"},
    {"shear, G", "Schub, G", "taglio, G"},
    {"Q along", "Q längs", "Q lungo"},
    {"Q across", "Q quer", "Q traverso"},
    {"sound along", "Schall längs", "suono lungo"},
    {"radiation", "Abstrahlzahl", "radiazione"},
    {"wood", "Holz", "legno"},
    {"difference", "Abstand", "differenza"},
    {"(95 %)", "(95 %)", "(95 %)"},
    {"along", "längs", "lungo"},
    {"across", "quer", "traverso"},
    {"shear", "Schub", "taglio"},
    {"E, G: GPa", "E, G: GPa", "E, G: GPa"},
    {"sound, m/s", "Schall, m/s", "suono, m/s"},
    {"{} × {} × {} mm", "{} × {} × {} mm", "{} × {} × {} mm"},
    {"as if at {} °C, {} %", "wie bei {} °C, {} %", "come a {} °C, {} %"},
    {"As if at {}: set over, not measured; by that alone {} ± {} Hz, the mass ± {} g.",
     "Wie bei {}: umgerechnet, nicht gemessen; allein dadurch {} ± {} Hz, die Masse ± {} g.",
     "Come a {}: riportati, non misurati; per questo solo {} ± {} Hz, la massa ± {} g."},
    {"As if at {}: set over, not measured; by that alone the mass ± {} g.",
     "Wie bei {}: umgerechnet, nicht gemessen; allein dadurch die Masse ± {} g.",
     "Come a {}: riportati, non misurati; per questo solo la massa ± {} g."},
    {"{} session without its air stays as measured.",
     "{} Sitzung ohne Luftwerte bleibt wie gemessen.",
     "{} sessione senza la sua aria resta come misurata."},
    {"{} sessions without their air stay as measured.",
     "{} Sitzungen ohne Luftwerte bleiben wie gemessen.",
     "{} sessioni senza la loro aria restano come misurate."},
    {"set over {} g", "umgerechnet {} g", "riportata {} g"},
    {"changes as if at {}", "Änderungen wie bei {}", "variazioni come a {}"},
    {"{} °C, {} % humidity", "{} °C, {} % Luftfeuchte", "{} °C, {} % di umidità"},
    {"That is no room's air. Nothing was changed.",
     "Das ist keine Raumluft. Nichts wurde geändert.",
     "Non è l'aria di un ambiente. Nulla è stato cambiato."},
    {"One air for all sessions", "Eine Luft für alle Sitzungen", "Un'aria per tutte le sessioni"},
    {"Drift, forecast and comparison can be set over to one air, as if every session had been held "
     "in it. Measured masses and modes are kept and shown as they are.",
     "Verlauf, Vorhersage und Vergleich lassen sich auf eine Luft umrechnen, als wäre jede Sitzung "
     "in ihr gehalten. Gemessene Massen und Moden bleiben und stehen da, wie sie sind.",
     "Andamento, previsione e confronto si possono riportare a un'aria, come se ogni sessione vi "
     "fosse stata tenuta. Masse e modi misurati si conservano e si mostrano come sono."},
    {"set over to this air", "auf diese Luft umrechnen", "riporta a quest'aria"},
    {"Keep this air", "Diese Luft behalten", "Tieni quest'aria"},
    {"{} % moisture", "{} % Feuchte", "{} % di umidità"},
    {"{} % moisture by its air", "{} % Feuchte nach der Luft", "{} % di umidità secondo l'aria"},
    {"Reading the taps of the wood", "Die Schläge am Holz werden gelesen",
     "Si leggono i colpi sul legno"},
    {"The figures of this wood could not be computed; what was kept is safe: {}",
     "Die Werte dieses Holzes ließen sich nicht berechnen; was aufbewahrt wurde, ist sicher: {}",
     "I valori di questo legno non si sono potuti calcolare; quanto conservato è al sicuro: {}"},
    {"Give the wood a name, as it has in your stock.",
     "Dem Holz einen Namen geben, wie es im Lager heißt.",
     "Dare un nome al legno, quello che ha in magazzino."},
    {"Give the wood a name, as it has in your stock. Nothing was stored.",
     "Dem Holz einen Namen geben, wie es im Lager heißt. Nichts wurde gespeichert.",
     "Dare un nome al legno, quello che ha in magazzino. Nulla è stato salvato."},
    {"A piece needs its length, width and thickness. Nothing was stored.",
     "Ein Stück braucht Länge, Breite und Stärke. Nichts wurde gespeichert.",
     "Un pezzo richiede lunghezza, larghezza e spessore. Nulla è stato salvato."},
    {"A piece needs its length along the grain, its width across it and its thickness, in mm.",
     "Ein Stück braucht seine Länge längs der Faser, seine Breite quer dazu und seine Stärke, in "
     "mm.",
     "Un pezzo richiede la lunghezza lungo la fibra, la larghezza attraverso e lo spessore, in "
     "mm."},
    {"The length along the grain", "Die Länge längs der Faser", "La lunghezza lungo la fibra"},
    {"The width across the grain", "Die Breite quer zur Faser", "La larghezza attraverso la fibra"},
    {"The thickness", "Die Stärke", "Lo spessore"},
    {"The thin edge", "Die dünne Kante", "Il bordo sottile"},
    {"The unevenness", "Die Ungleichmäßigkeit", "L'irregolarità"},
    {"The wood's moisture", "Die Holzfeuchte", "L'umidità del legno"},
    {"“{}” is no tap tone: give its Hz (10 to 40000), and its Q after a semicolon where it is "
     "known.",
     "„{}“ ist kein Klopfton: die Hz (10 bis 40000) angeben und nach einem Strichpunkt das Q, wo "
     "es bekannt ist.",
     "«{}» non è un suono di battuta: dare gli Hz (da 10 a 40000), e dopo un punto e virgola il Q "
     "se noto."},
    {"A piece of wood", "Ein Stück Holz", "Un pezzo di legno"},
    {"The wood", "Das Holz", "Il legno"},
    {"name in your stock", "Name im Lager", "nome in magazzino"},
    {"handbook wood", "Holz des Handbuchs", "legno del manuale"},
    {"none of these", "keines von diesen", "nessuno di questi"},
    {"origin: where from, when felled", "Herkunft: woher, wann gefällt",
     "origine: da dove, quando tagliato"},
    {"Its measures", "Seine Maße", "Le sue misure"},
    {"what it is", "was es ist", "che cos'è"},
    {"along the grain, mm", "längs der Faser, mm", "lungo la fibra, mm"},
    {"across the grain, mm", "quer zur Faser, mm", "attraverso la fibra, mm"},
    {"thick edge, mm", "dicke Kante, mm", "bordo spesso, mm"},
    {"thin edge, mm", "dünne Kante, mm", "bordo sottile, mm"},
    {"moisture by a meter, %", "Feuchte nach Messgerät, %", "umidità dal misuratore, %"},
    {"thickness strays by, mm", "Stärke schwankt um, mm", "lo spessore varia di, mm"},
    {"Its tap tones", "Seine Klopftöne", "I suoi suoni di battuta"},
    {"The lowest of each motion: Hz, and its Q after a semicolon where it is known. What is left "
     "empty is not counted.",
     "Der tiefste jeder Bewegung: Hz und nach einem Strichpunkt sein Q, wo es bekannt ist. Was "
     "leer bleibt, zählt nicht.",
     "Il più basso di ogni moto: Hz, e dopo un punto e virgola il Q se noto. Ciò che resta vuoto "
     "non conta."},
    {"No wood in the ledger yet", "Noch kein Holz im Werkbuch", "Ancora nessun legno nel registro"},
    {"Measure, weigh and tap a billet, a wedge, a bar or a board: its density, stiffness and "
     "damping then stand beside those of your other wood, and of the one that made the good "
     "instrument.",
     "Einen Rohling, einen Keil, einen Stab oder ein Brett messen, wiegen und anschlagen: Dichte, "
     "Steifigkeit und Dämpfung stehen dann neben denen des anderen Holzes und dessen, aus dem das "
     "gute Instrument wurde.",
     "Misurare, pesare e battere un massello, uno spicchio, una barra o una tavoletta: densità, "
     "rigidezza e smorzamento stanno poi accanto a quelli degli altri legni, e di quello dello "
     "strumento riuscito."},
    {"Enter a piece of wood", "Ein Stück Holz eintragen", "Registra un pezzo di legno"},
    {"all at this moisture of the wood, %; empty: each as it was",
     "alles bei dieser Holzfeuchte, %; leer: jedes, wie es war",
     "tutto a questa umidità del legno, %; vuoto: com'era ciascuno"},
    {"Read again", "Neu lesen", "Rileggi"},
    {"density {} kg/m³, radiation ratio {} m⁴/(kg s)", "Dichte {} kg/m³, Abstrahlzahl {} m⁴/(kg s)",
     "densità {} kg/m³, rapporto di radiazione {} m⁴/(kg s)"},
    {"All at {} % moisture of the wood.", "Alles bei {} % Holzfeuchte.",
     "Tutto al {} % di umidità del legno."},
    {"Set all beside it", "Alle daneben halten", "Confronta tutti"},
    {"Another piece of it", "Noch ein Stück davon", "Un altro suo pezzo"},
    {"{} is carved from it", "{} ist daraus gemacht", "{} è fatta di questo"},
    {"{} is not of it", "{} ist nicht daraus gemacht", "{} non è di questo"},
    {"Which comes nearest?", "Welches kommt am nächsten?", "Quale si avvicina di più?"},
    {"Choose the wood that made the good instrument and press “Set all beside it”: the table then "
     "says how far each is from it, and here stands how thick a plate of another is to be.",
     "Das Holz des guten Instruments wählen und „Alle daneben halten“ drücken: die Tabelle sagt "
     "dann, wie weit jedes davon entfernt ist, und hier steht, wie dick eine Platte aus einem "
     "anderen werden soll.",
     "Scegliere il legno dello strumento riuscito e premere «Confronta tutti»: la tabella dice "
     "allora quanto ciascuno ne dista, e qui sta quanto spessa dev'essere una piastra di un "
     "altro."},
    {"No other wood has both a density and a stiffness along the grain to set beside it.",
     "Kein anderes Holz hat Dichte und Längssteifigkeit, um es daneben zu halten.",
     "Nessun altro legno ha densità e rigidezza lungo la fibra da confrontare."},
    {"Nearest: {}, {} apart.", "Am nächsten: {}, Abstand {}.", "Il più vicino: {}, distanza {}."},
    {"Counted in spreads between trees of one species; two trees met by chance are about 1.4 "
     "apart.",
     "Gezählt in Streuungen zwischen Bäumen einer Art; zwei zufällige Bäume liegen etwa 1,4 "
     "auseinander.",
     "Contata in scarti tra alberi di una specie; due alberi a caso distano circa 1,4."},
    {"{} of it in: {}", "{} davon in: {}", "{} rispetto ad esso: {}"},
    {"thickness of its plate, mm", "Stärke seiner Platte, mm", "spessore della sua piastra, mm"},
    {"Say how thick the good plate is in the mean, and here stands what this wood needs.",
     "Sagen, wie dick die gute Platte im Mittel ist, dann steht hier, was dieses Holz braucht.",
     "Dire lo spessore medio della piastra riuscita: qui starà quanto serve a questo legno."},
    {"as stiff along the grain", "so steif längs", "rigida lungo la fibra"},
    {"as stiff across", "so steif quer", "rigida di traverso"},
    {"both in the mean", "beides im Mittel", "entrambe in media"},
    {"a flat plate's tap tone", "Klopfton, ebene Platte", "suono, piastra piana"},
    {"as heavy", "so schwer", "altrettanto pesante"},
    {"As stiff in the mean, it weighs {} % of the other.",
     "Im Mittel so steif wiegt sie {} % der anderen.",
     "Altrettanto rigida in media, pesa il {} % dell'altra."},
    {"Outline and arching taken to be the same. Wood taken off can't be put back: stop above, and "
     "tap.",
     "Umriss und Wölbung als gleich genommen. Abgenommenes Holz kommt nicht zurück: darüber "
     "aufhören und anschlagen.",
     "Contorno e bombatura presi come uguali. Il legno tolto non torna: fermarsi prima, e "
     "battere."},
    {"Of a piece neither moisture nor air was noted: its figures are as they were that day.",
     "Von einem Stück wurde weder Feuchte noch Luft notiert: seine Werte sind wie an jenem Tag.",
     "Di un pezzo non si annotò né umidità né aria: i suoi valori sono quelli di quel giorno."},
    {"The bar of {} is only {} times as long as thick: shear makes its figure doubtful. Forty "
     "times is better.",
     "Der Stab vom {} ist nur {}-mal so lang wie dick: Schub macht seinen Wert zweifelhaft. "
     "Vierzigmal ist besser.",
     "La barra del {} è lunga solo {} volte lo spessore: il taglio rende incerto il valore. Meglio "
     "quaranta volte."},
    {"No wood of this kind gives the board of {} these frequencies: is one of them another motion, "
     "or a measure mistyped?",
     "Kein Holz dieser Art gibt dem Brett vom {} diese Frequenzen: ist eine davon eine andere "
     "Bewegung oder ein Maß vertippt?",
     "Nessun legno di questo tipo dà alla tavoletta del {} queste frequenze: una è di un altro "
     "moto, o una misura è sbagliata?"},
    {"The board of {} is of such a length and width that its bending along and across mix: tap "
     "both, one alone says little.",
     "Das Brett vom {} ist so lang und breit, dass sich Biegung längs und quer mischen: beide "
     "anschlagen, eine allein sagt wenig.",
     "La tavoletta del {} ha lunghezza e larghezza tali che le flessioni si mescolano: battere "
     "entrambe, una sola dice poco."},
    {"The board of {} is of such a length and width that its bending along and across mix; the fit "
     "allows for it.",
     "Das Brett vom {} ist so lang und breit, dass sich Biegung längs und quer mischen; die "
     "Anpassung beachtet es.",
     "La tavoletta del {} ha lunghezza e larghezza tali che le flessioni si mescolano; il calcolo "
     "ne tiene conto."},
    {"The {} of {} was not weighed: its taps tell no constants.",
     "{} vom {} wurde nicht gewogen: die Schläge sagen keine Konstanten.",
     "{} del {} non è stato pesato: i colpi non dicono costanti."},
    {"The piece of {} is a wedge: only its sound tells constants, not its bending.",
     "Das Stück vom {} ist ein Keil: nur sein Schall sagt Konstanten, nicht seine Biegung.",
     "Il pezzo del {} è uno spicchio: solo il suono dice costanti, non la flessione."},
});

} // namespace platewright::wording
