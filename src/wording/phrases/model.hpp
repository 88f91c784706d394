#pragma once
#include "wording/row.hpp"

namespace platewright::wording {

/// The thickness map, the plate's model and its plan.
inline constexpr auto k_model_phrases = std::to_array<Row>({
    {"stiffness along the grain", "Steifigkeit längs der Faser", "rigidezza lungo la fibra"},
    {"stiffness across the grain", "Steifigkeit quer zur Faser", "rigidezza attraverso la fibra"},
    {"shear stiffness", "Schubsteifigkeit", "rigidezza di taglio"},
    {"stiffness through the thickness", "Steifigkeit durch die Dicke", "rigidezza nello spessore"},
    {"the rings' lean", "die Neigung der Jahrringe", "l'inclinazione degli anelli"},
    {"the run-out", "der Faserauslauf", "la deviazione della fibra"},
    {"The wood comes out soft across, as where the rings lean by {}° ± {}°: look at the end grain, "
     "and type what it shows (Shape).",
     "Das Holz kommt quer weich heraus, als neigten sich die Jahrringe um {}° ± {}°: das Hirnholz "
     "ansehen und eintippen, was es zeigt (Form).",
     "Il legno risulta cedevole attraverso, come se gli anelli pendessero di {}° ± {}°: guardare "
     "la testa del legno e scrivere ciò che mostra (Forma)."},
    {"density", "Dichte", "densità"},
    {"the arch's shape", "Gestalt der Wölbung", "forma della bombatura"},
    {"thickness", "Stärke", "spessore"},
    {"No plausible wood gives these frequencies.", "Kein glaubhaftes Holz ergibt diese Frequenzen.",
     "Nessun legno plausibile dà queste frequenze."},
    {"It would have to be off by this much: {}, {}.", "So weit müsste es daneben liegen: {}, {}.",
     "Dovrebbe scostarsi di tanto: {}, {}."},
    {"Of them, {} fits worst (tapped {} Hz, model {} Hz).",
     "Am schlechtesten passt {} (Schlag {} Hz, Modell {} Hz).",
     "Fra esse, {} si adatta peggio (colpo {} Hz, modello {} Hz)."},
    {"A mode may be named wrongly, or the thickness map, the arching or the mass may not be this "
     "plate's.",
     "Eine Mode mag falsch benannt sein, oder Stärkenkarte, Wölbung oder Masse gehören nicht zu "
     "dieser Platte.",
     "Forse un modo ha il nome sbagliato, o la mappa degli spessori, la bombatura o la massa non "
     "sono di questa piastra."},
    {"{} was expected at {} \u00b1 {} Hz and was tapped at {} Hz: ",
     "{} wurde bei {} \u00b1 {} Hz erwartet und bei {} Hz geklopft: ",
     "{} era atteso a {} \u00b1 {} Hz ed è stato battuto a {} Hz: "},
    {"as expected.", "wie erwartet.", "come atteso."},
    {"further off than its uncertainty. Was the wood taken where the plan said, and has the plate "
     "settled to the same humidity?",
     "weiter weg als ihre Unsicherheit. Wurde das Holz dort genommen, wo der Plan es sagte, und "
     "hat sich die Platte an dieselbe Feuchte angepasst?",
     "più lontano della sua incertezza. Il legno è stato tolto dove diceva il piano, e la piastra "
     "si è assestata alla stessa umidità?"},
    {"{} from {} to {} \u00b1 {} Hz", "{} von {} auf {} \u00b1 {} Hz",
     "{} da {} a {} \u00b1 {} Hz"},
    {"{} can't be brought to {} Hz, the nearest is {} Hz",
     "{} lässt sich nicht auf {} Hz bringen, am nächsten sind {} Hz",
     "{} non si può portare a {} Hz, il più vicino è {} Hz"},
    {"A mode of the targets can't be followed on this plate by its shape: no plan is offered.",
     "Eine Mode der Ziele lässt sich auf dieser Platte an ihrer Form nicht verfolgen: kein Plan "
     "wird angeboten.",
     "Un modo tra le mete non si può seguire su questa piastra dalla sua forma: nessun piano viene "
     "proposto."},
    {"The modes are where they should be: nothing needs to be taken.",
     "Die Moden sind, wo sie sein sollen: nichts muss abgenommen werden.",
     "I modi sono dove devono essere: non c'è nulla da togliere."},
    {"By thinning alone, within the limits, not all of this can be reached: {}. The nearest would "
     "take {} g, at most {} mm (the thinnest place left is {} mm): {}.",
     "Allein durch Ausdünnen, innerhalb der Grenzen, ist nicht alles davon zu erreichen: {}. Am "
     "nächsten käme eine Abnahme von {} g, höchstens {} mm (die dünnste Stelle danach hat {} mm): "
     "{}.",
     "Solo assottigliando, entro i limiti, non tutto si può raggiungere: {}. Il più vicino "
     "toglierebbe {} g, al massimo {} mm (il punto più sottile rimasto è {} mm): {}."},
    {"More would take {} below its goal.", "Mehr brächte {} unter das Ziel.",
     "Di più porterebbe {} sotto la sua meta."},
    {"By thinning alone, within the limits, not all of this can be reached: {}. No wood that may "
     "be taken brings it nearer.",
     "Allein durch Ausdünnen, innerhalb der Grenzen, ist nicht alles davon zu erreichen: {}. Kein "
     "Holz, das weg darf, bringt es näher.",
     "Solo assottigliando, entro i limiti, non tutto si può raggiungere: {}. Nessun legno che si "
     "può togliere avvicina."},
    {"All targets can be reached by taking {} g, at most {} mm (the thinnest place left is {} mm): "
     "{}.",
     "Alle Ziele sind zu erreichen durch Abnahme von {} g, höchstens {} mm (die dünnste Stelle "
     "danach hat {} mm): {}.",
     "Tutte le mete si raggiungono togliendo {} g, al massimo {} mm (il punto più sottile rimasto "
     "è {} mm): {}."},
    {"Wood taken off can't be put back. Take this pass only ({} g), then tap and plan again.",
     "Abgenommenes Holz kommt nicht zurück. Nur diesen Durchgang nehmen ({} g), dann anschlagen "
     "und neu planen.",
     "Il legno tolto non si rimette. Togliere solo questa passata ({} g), poi battere e "
     "ripianificare."},
    {"{}: its \u00b1 {} Hz would be \u00b1 {} Hz if the arch were known better. Read the height of "
     "the outside on the centre line, {} mm from the lower end, and type them with the plate's "
     "shape.",
     "{}: aus \u00b1 {} Hz würden \u00b1 {} Hz, wäre die Wölbung besser bekannt. Die Höhe der "
     "Außenseite auf der Mittellinie messen, {} mm vom unteren Ende, und bei der Form der Platte "
     "eingeben.",
     "{}: i suoi \u00b1 {} Hz sarebbero \u00b1 {} Hz se la bombatura fosse nota meglio. Misurare "
     "l'altezza dell'esterno sulla linea di mezzo, a {} mm dall'estremo inferiore, e scriverla con "
     "la forma della piastra."},
    {"The figures after \u00b1 are intervals of 95 %, from what the taps leave open about the wood "
     "and the arch; they count on the thickness map and on a plate at the same humidity as before.",
     "Die Werte nach \u00b1 sind Bereiche von 95 %, aus dem, was die Schläge an Holz und Wölbung "
     "offen lassen; sie verlassen sich auf die Stärkenkarte und auf dieselbe Feuchte wie zuvor.",
     "I valori dopo \u00b1 sono intervalli del 95 %, da ciò che i colpi lasciano aperto su legno e "
     "bombatura; contano sulla mappa degli spessori e su una piastra alla stessa umidità di "
     "prima."},
    {"The model knows nothing of sound: free-plate modes are an aim of the maker's own choosing.",
     "Das Modell weiß nichts vom Klang: freie Plattenmoden sind ein selbst gewähltes Ziel.",
     "Il modello non sa nulla del suono: i modi della piastra libera sono uno scopo scelto dal "
     "liutaio."},
    {"Fix the work in a cradle and keep both hands behind the edge; local rules and training "
     "decide.",
     "Das Werkstück in einer Schale festlegen und beide Hände hinter der Schneide halten; örtliche "
     "Regeln und Ausbildung entscheiden.",
     "Fissare il pezzo in una culla e tenere entrambe le mani dietro il filo; decidono le regole "
     "locali e la formazione."},
    {"Wood dust can cause asthma and nasal cancer (IARC group 1): extract at the source, wear a "
     "mask, keep local limits.",
     "Holzstaub kann Asthma und Nasenkrebs verursachen (IARC Gruppe 1): an der Quelle absaugen, "
     "Maske tragen, örtliche Grenzwerte einhalten.",
     "La polvere di legno può causare asma e tumore nasale (IARC gruppo 1): aspirare alla fonte, "
     "portare la maschera, rispettare i limiti locali."},
    {"Doubtful: {}", "Zweifelhaft: {}", "Dubbio: {}"},
    {"it mixes motion alike and opposite on the two sides",
     "sie mischt gleiche und entgegengesetzte Bewegung der beiden Seiten",
     "mescola moti uguali e opposti dei due lati"},
    {"no mode is much like it", "keine Mode gleicht ihr sehr", "nessun modo le somiglia molto"},
    {"another mode is nearly as like it", "eine andere Mode gleicht ihr fast ebenso",
     "un altro modo le somiglia quasi altrettanto"},
    {"its ring does not close", "ihr Ring schließt sich nicht", "il suo anello non si chiude"},
    {"its ring does not close, and it is not the fifth mode",
     "ihr Ring schließt sich nicht, und sie ist nicht die fünfte Mode",
     "il suo anello non si chiude, e non è il quinto modo"},
    {"all alike", "alles gleich", "tutto uguale"},
    {"below {}", "unter {}", "sotto {}"},
    {"{} and more", "{} und mehr", "{} e oltre"},
    {"{} to {}", "{} bis {}", "da {} a {}"},
    {"thickness, mm", "Stärke, mm", "spessore, mm"},
    {"thinnest {}", "dünnste {}", "minimo {}"},
    {"read here next", "hier als Nächstes messen", "misurare qui"},
    {"Hz a stroke", "Hz je Zug", "Hz a raschiata"},
    {"motion", "Bewegung", "moto"},
    {"to take off, mm", "abzunehmen, mm", "da togliere, mm"},
    {"no. {} of the model", "Nr. {} des Modells", "n. {} del modello"},
    {"Where readings are sparse the surface may be {} mm off (95 %). The next reading helps most "
     "at {}: the worst falls to {} mm.",
     "Wo Messpunkte selten sind, kann die Fläche {} mm daneben liegen (95 %). Die nächste Messung "
     "hilft am meisten bei {}: das Schlechteste sinkt auf {} mm.",
     "Dove le misure sono rade la superficie può scostarsi di {} mm (95 %). La prossima misura "
     "serve di più a {}: il peggio scende a {} mm."},
    {"At the thinnest place the map is too unsure to be used: read the thickness there.",
     "An der dünnsten Stelle ist die Karte zu unsicher: dort die Stärke messen.",
     "Nel punto più sottile la mappa è troppo incerta: misurare lì lo spessore."},
    {"The map makes the plate {} g, the scales say {} g: more than density and calipers leave "
     "open. Is the density, the outline or the unit of the readings right?",
     "Nach der Karte wiegt die Platte {} g, nach der Waage {} g: mehr, als Dichte und Taster offen "
     "lassen. Stimmen Dichte, Umriss oder Einheit der Messwerte?",
     "Secondo la mappa la piastra pesa {} g, secondo la bilancia {} g: più di quanto densità e "
     "spessimetro lascino aperto. Sono giuste densità, forma o unità delle misure?"},
    {"A closed body has no thickness to read: maps and plans are for its plates. Nothing was "
     "stored.",
     "Ein geschlossener Korpus hat keine Stärke zu messen: Karten und Pläne sind für seine "
     "Platten. Nichts wurde gespeichert.",
     "Una cassa chiusa non ha spessori da misurare: mappe e piani sono per le sue piastre. Nulla è "
     "stato salvato."},
    {"{} g can't be the mass of such a plate or body ({} to {} g): is a digit or the decimal mark "
     "wrong? Nothing was stored.",
     "{} g kann keine solche Platte und kein solcher Korpus wiegen ({} bis {} g): stimmt eine "
     "Ziffer oder das Komma nicht? Nichts wurde gespeichert.",
     "{} g non può essere la massa di una tale piastra o cassa (da {} a {} g): c'è una cifra o la "
     "virgola sbagliata? Nulla è stato salvato."},
    {"{} g can't be this plate: it weighed {} g on {}. Is a digit or the decimal mark wrong? "
     "Nothing was stored.",
     "{0} g kann diese Platte nicht wiegen: am {2} wog sie {1} g. Stimmt eine Ziffer oder das "
     "Komma nicht? Nichts wurde gespeichert.",
     "{} g non può essere questa piastra: pesava {} g il {}. C'è una cifra o la virgola sbagliata? "
     "Nulla è stato salvato."},
    {"The session of {} has no caliper readings.", "Die Sitzung vom {} hat keine Tastermessungen.",
     "La sessione del {} non ha misure dello spessimetro."},
    {"The computation was stopped; nothing was changed.",
     "Die Berechnung wurde abgebrochen; nichts wurde geändert.",
     "Il calcolo è stato fermato; nulla è stato cambiato."},
    {"The session of {} is left out of the fit: the plate had other f-holes or another bar then.",
     "Die Sitzung vom {} bleibt aus der Anpassung: die Platte hatte damals andere F-Löcher oder "
     "einen anderen Balken.",
     "La sessione del {} resta fuori dall'adattamento: allora la piastra aveva altre effe o "
     "un'altra catena."},
    {"The session of {} is left out of the fit. {}",
     "Die Sitzung vom {} bleibt aus der Anpassung. {}",
     "La sessione del {} resta fuori dall'adattamento. {}"},
    {"The fit did not settle: take its figures with care.",
     "Die Anpassung kam nicht zur Ruhe: ihre Werte mit Vorsicht nehmen.",
     "L'adattamento non si è assestato: prenderne i valori con cautela."},
    {"No wood can have these modes with this map and arching: is a mode named wrongly, or the map "
     "in another unit?",
     "Kein Holz kann mit dieser Karte und Wölbung diese Moden haben: ist eine Mode falsch benannt "
     "oder die Karte in einer anderen Einheit?",
     "Nessun legno può avere questi modi con questa mappa e bombatura: un modo ha il nome "
     "sbagliato, o la mappa un'altra unità?"},
    {"In the model mode {} is doubtful: {}.", "Im Modell ist Mode {} zweifelhaft: {}.",
     "Nel modello il modo {} è dubbio: {}."},
    {"The plate's shape is not known yet: say its size under Plate, Shape (F8).",
     "Die Form der Platte ist noch nicht bekannt: ihre Größe unter Platte, Form (F8), angeben.",
     "La forma della piastra non è ancora nota: dirne le misure in Piastra, Forma (F8)."},
    {"No session of this plate has caliper readings yet: the model needs a thickness map.",
     "Noch keine Sitzung dieser Platte hat Tastermessungen: das Modell braucht eine Stärkenkarte.",
     "Nessuna sessione di questa piastra ha ancora misure dello spessimetro: al modello serve una "
     "mappa degli spessori."},
    {"No named mode was tapped in a session with a map: the model has the handbook's wood, not "
     "this plate's.",
     "In keiner Sitzung mit Karte wurde eine benannte Mode geklopft: das Modell hat das Holz des "
     "Handbuchs, nicht das dieser Platte.",
     "In nessuna sessione con mappa è stato battuto un modo con nome: il modello ha il legno del "
     "manuale, non quello di questa piastra."},
    {"The two maps leave open how the pass was laid out: read at the same places before and after, "
     "and closer together.",
     "Die beiden Karten lassen offen, wie der Durchgang verteilt war: vorher und nachher an "
     "denselben Stellen messen, und enger.",
     "Le due mappe lasciano aperto come fu distribuita la passata: misurare negli stessi punti "
     "prima e dopo, e più fitto."},
});

} // namespace platewright::wording
