#pragma once
#include "wording/row.hpp"

namespace platewright::wording {

/// The words of the trade: verdicts, spots, stages, kinds of instrument, the closed body, modes and
/// their doubts, targets.
inline constexpr auto k_work_phrases = std::to_array<Row>({
    {"accepted", "angenommen", "accettato"},
    {"too weak", "zu schwach", "troppo debole"},
    {"clipped", "übersteuert", "saturato"},
    {"struck twice", "doppelt geschlagen", "colpo doppio"},
    {"noise just before it", "Geräusch kurz davor", "rumore appena prima"},
    {"too short", "zu kurz", "troppo breve"},
    {"no ring", "kein Ausklang", "nessuna risonanza"},
    {"sound was lost", "Ton verloren", "suono perduto"},
    {"another plate?", "andere Platte?", "altra piastra?"},
    {"with a mass on", "mit Gewicht", "con un peso"},
    {"hardly a ring", "kaum ein Ausklang", "risonanza appena udibile"},
    {"counted by your word", "zählt auf Ihr Wort", "contato su conferma"},
    {"anywhere", "irgendwo", "ovunque"},
    {"centre", "Mitte", "centro"},
    {"upper end", "oberes Ende", "estremo superiore"},
    {"lower end", "unteres Ende", "estremo inferiore"},
    {"upper bout, left", "Oberbug links", "lobo superiore, sinistra"},
    {"upper bout, right", "Oberbug rechts", "lobo superiore, destra"},
    {"waist, left", "Taille links", "vita, sinistra"},
    {"waist, right", "Taille rechts", "vita, destra"},
    {"lower bout, left", "Unterbug links", "lobo inferiore, sinistra"},
    {"lower bout, right", "Unterbug rechts", "lobo inferiore, destra"},
    {"upper bout", "Oberbug", "lobo superiore"},
    {"waist", "Taille", "vita"},
    {"lower bout", "Unterbug", "lobo inferiore"},
    {"left", "links", "sinistra"},
    {"middle", "Mitte", "mezzo"},
    {"right", "rechts", "destra"},
    {"violin", "Geige", "violino"},
    {"viola", "Bratsche", "viola"},
    {"cello", "Cello", "violoncello"},
    {"double bass", "Kontrabass", "contrabbasso"},
    {"other", "anderes", "altro"},
    {"top", "Decke", "tavola"},
    {"back", "Boden", "fondo"},
    {"{} {}", "{}, {}", "{}, {}"}, // violin back
    {"rough", "roh", "sgrossata"},
    {"graduating", "beim Ausarbeiten", "in assottigliamento"},
    {"graduated", "ausgearbeitet", "assottigliata"},
    {"f-holes cut", "F-Löcher geschnitten", "effe tagliate"},
    {"bar fitted", "Balken eingepasst", "catena montata"},
    {"finished", "fertig", "finita"},
    {"mode {}", "Mode {}", "modo {}"},
    {"{} (twist)", "{} (Torsion)", "{} (torsione)"},
    {"{} (X)", "{} (X)", "{} (X)"},
    {"{} (ring)", "{} (Ring)", "{} (anello)"},
    {"the mode at {} Hz", "die Mode bei {} Hz", "il modo a {} Hz"},
    {"There is not enough evidence for {}.", "Für {} reichen die Anzeichen nicht.",
     "Non ci sono indizi sufficienti per: {}."},
    {"It is not sure whether {} is at {} Hz or at {} Hz.",
     "Es ist nicht sicher, ob {} bei {} Hz oder bei {} Hz liegt.",
     "Non è certo se {} sia a {} Hz o a {} Hz."},
    {"It is not sure that {} Hz is {}.", "Es ist nicht sicher, dass {} Hz {} ist.",
     "Non è certo che {} Hz sia {}."},
    {"A tap at this spot would help: {}.", "Ein Schlag an dieser Stelle würde helfen: {}.",
     "Un colpo in questo punto aiuterebbe: {}."},
    {"this session", "diese Sitzung", "questa sessione"},
    {"the reference", "das Vorbild", "il riferimento"},
    {"No modes have been found in {} yet: tap it a few times.",
     "Noch keine Moden gefunden ({}): ein paar Mal anschlagen.",
     "Ancora nessun modo trovato ({}): dare qualche colpo."},
    {"Too few taps in {} to say how sure its figures are: take at least {}.",
     "Zu wenige Schläge ({}), um zu sagen, wie sicher die Werte sind: mindestens {} nehmen.",
     "Troppo pochi colpi ({}) per dire quanto siano certi i valori: prenderne almeno {}."},
    {"The taps of {} differ by {} %, too widely to compare: hang or hold the plate at a node and "
     "tap again.",
     "Die Schläge weichen um {1} % voneinander ab ({0}), zu weit zum Vergleichen: die Platte an "
     "einer Knotenlinie hängen oder halten und neu klopfen.",
     "I colpi differiscono del {1} % ({0}), troppo per un confronto: appendere o tenere la piastra "
     "su una linea nodale e ribattere."},
    {"Tap {} stands apart: {} lies {} Hz {} there than in the others. If the hold slipped, take it "
     "back.",
     "Schlag {} fällt heraus: {} liegt dort {} Hz {} als bei den anderen. Wenn der Griff "
     "verrutscht ist, zurücknehmen.",
     "Il colpo {} si discosta: lì {} è {} Hz {} che negli altri. Se la presa è scivolata, "
     "annullarlo."},
    {"lower", "tiefer", "più in basso"},
    {"higher", "höher", "più in alto"},
    {"The air has changed since {}: wood settles at {} % moisture now, at {} % then. That alone "
     "can move a mode by {} to {} cents once the plate has settled; all figures are as measured.",
     "Die Luft ist anders als am {}: Holz stellt sich jetzt auf {} % Feuchte ein, damals auf {} %. "
     "Das allein kann eine Mode um {} bis {} Cent verschieben, sobald sich die Platte angepasst "
     "hat; alle Werte stehen da wie gemessen.",
     "L'aria è cambiata dal {}: ora il legno si assesta al {} % di umidità, allora al {} %. Già "
     "questo può spostare un modo da {} a {} cent quando la piastra si è assestata; tutti i valori "
     "sono come misurati."},
    {"The air was wetter then, which may be why.",
     "Die Luft war damals feuchter, das mag der Grund sein.",
     "L'aria allora era più umida: può essere la causa."},
    {"The air was drier then, which may be why.",
     "Die Luft war damals trockener, das mag der Grund sein.",
     "L'aria allora era più secca: può essere la causa."},
    {"The session of {} stands off the line of the others and counts for little in the forecast of "
     "{}.",
     "Die Sitzung vom {} liegt abseits der Linie der anderen und zählt wenig in der Vorhersage für "
     "{}.",
     "La sessione del {} è fuori dalla linea delle altre e conta poco nella previsione di {}."},
    {"{} was not found in the newest session; it was last on {}.",
     "{} wurde in der neuesten Sitzung nicht gefunden; zuletzt am {}.",
     "{} non è stato trovato nell'ultima sessione; l'ultima volta il {}."},
    {"body", "Korpus", "cassa"},
    {"closed", "geschlossen", "chiusa"},
    {"varnished", "lackiert", "verniciata"},
    {"set up", "spielfertig", "montata"},
    {"bridge, bass side", "Steg, Bassseite", "ponticello, lato bassi"},
    {"{} is beyond its target of {} Hz already; more wood off leads further away.",
     "{} ist schon jenseits des Ziels von {} Hz; weiteres Abnehmen führt weiter weg.",
     "{} è già oltre la meta di {} Hz; togliere altro legno allontana di più."},
    {"A pass of {} g would take {} beyond its target of {} Hz with a chance of {} %: wood taken "
     "off can't be put back.",
     "Ein Durchgang von {0} g brächte {1} mit einer Wahrscheinlichkeit von {3} % über das Ziel von "
     "{2} Hz hinaus: abgenommenes Holz kommt nicht zurück.",
     "Una passata di {} g porterebbe {} oltre la meta di {} Hz con una probabilità del {} %: il "
     "legno tolto non si rimette."},
    {"Damp the strings, strike the bridge sideways at its bass corner.",
     "Die Saiten dämpfen, den Steg seitlich an der Bassecke anschlagen.",
     "Smorzare le corde, battere il ponticello di lato all'angolo dei bassi."},
    {"bridge, treble side", "Steg, Diskantseite", "ponticello, lato acuti"},
});

} // namespace platewright::wording
