#pragma once
#include "wording/row.hpp"

namespace platewright::wording {

/// What the ledger holds: instruments, plates, sessions, and the forms they are entered with.
inline constexpr auto k_plates_phrases = std::to_array<Row>({
    {"Plates", "Platten", "Piastre"},
    {"An empty ledger", "Ein leeres Werkbuch", "Un registro vuoto"},
    {"Everything begins with an instrument: a label, its kind, and then its top and back as you "
     "come to work on them.",
     "Alles beginnt mit einem Instrument: eine Bezeichnung, seine Art und dann Decke und Boden, "
     "sobald an ihnen gearbeitet wird.",
     "Tutto comincia da uno strumento: un'etichetta, il tipo, e poi tavola e fondo quando ci si "
     "lavora."},
    {"Enter an instrument", "Ein Instrument eintragen", "Registra uno strumento"},
    {"Choose a plate at the left, or give an instrument its first one: it comes onto the bench, "
     "and its sessions show here.",
     "Links eine Platte wählen oder einem Instrument seine erste geben: sie kommt auf die "
     "Werkbank, und ihre Sitzungen stehen hier.",
     "Scegliere una piastra a sinistra, o dare a uno strumento la prima: arriva sul banco, e le "
     "sue sessioni appaiono qui."},
    {"look for: label, kind, wood, notes", "suchen: Bezeichnung, Art, Holz, Notizen",
     "cerca: etichetta, tipo, legno, note"},
    {"New instrument", "Neues Instrument", "Nuovo strumento"},
    {"Nothing here yet: begin with a new instrument.",
     "Hier ist noch nichts: mit einem neuen Instrument beginnen.",
     "Qui non c'è ancora nulla: cominciare da un nuovo strumento."},
    {"Nothing in the ledger answers to these words.", "Nichts im Werkbuch passt zu diesen Wörtern.",
     "Nulla nel registro risponde a queste parole."},
    {"no plate yet", "noch keine Platte", "ancora nessuna piastra"},
    {"Change the instrument", "Instrument ändern", "Cambia lo strumento"},
    {"sessions", "Sitzungen", "sessioni"},
    {"Tap it", "Anschlagen", "Batti"},
    {"Change", "Ändern", "Cambia"},
    {"New plate", "Neue Platte", "Nuova piastra"},
    {"All plates", "Alle Platten", "Tutte le piastre"},
    {"Put away", "Weglegen", "Metti via"},
    {"Put {} back", "{} zurückholen", "Rimetti {}"},
    {"{} session", "{} Sitzung", "{} sessione"},
    {"{} sessions", "{} Sitzungen", "{} sessioni"},
    {"{} good taps of {}", "{} gute Schläge von {}", "{} colpi buoni di {}"},
    {"Sessions", "Sitzungen", "Sessioni"},
    {"None yet. N begins the first.", "Noch keine. N beginnt die erste.",
     "Ancora nessuna. N inizia la prima."},
    {"Onto the bench", "Auf die Werkbank", "Sul banco"},
    {"Correct", "Berichtigen", "Correggi"},
    {"Make it a reference", "Zum Vorbild machen", "Fanne un riferimento"},
    {"No longer a reference", "Kein Vorbild mehr", "Non più riferimento"},
    {"{} is a number from {} to {} {}, or left empty; \u201c{}\u201d is not.",
     "{} ist eine Zahl von {} bis {} {} oder bleibt leer; \u201e{}\u201c ist keine.",
     "{} è un numero da {} a {} {}, o resta vuoto; «{}» non lo è."},
    {"{} is a number from {} to {}; \u201c{}\u201d is not.",
     "{} ist eine Zahl von {} bis {}; \u201e{}\u201c ist keine.",
     "{} è un numero da {} a {}; «{}» non lo è."},
    {"Save", "Speichern", "Salva"},
    {"Leave as it was", "Lassen, wie es war", "Lascia com'era"},
    {"Give the instrument a label, such as its number or its future owner.",
     "Dem Instrument eine Bezeichnung geben, etwa seine Nummer oder wem es gehören wird.",
     "Dare allo strumento un'etichetta, come il numero o il futuro proprietario."},
    {"The density", "Die Dichte", "La densità"},
    {"The body's length", "Die Länge des Korpus", "La lunghezza della cassa"},
    {"length of the body, mm; empty: full size", "Länge des Korpus, mm; leer: ganze Größe",
     "lunghezza della cassa, mm; vuoto: intera"},
    {"Usual: violin 355, three quarters 335, half 310, a quarter 280; viola 380 to 430; cello 755; "
     "double bass 1050 to 1150.",
     "Üblich: Geige 355, dreiviertel 335, halbe 310, viertel 280; Bratsche 380 bis 430; Cello 755; "
     "Kontrabass 1050 bis 1150.",
     "Di solito: violino 355, tre quarti 335, mezzo 310, un quarto 280; viola 380-430; violoncello "
     "755; contrabbasso 1050-1150."},
    {"The mass", "Die Masse", "La massa"},
    {"The temperature", "Die Temperatur", "La temperatura"},
    {"The humidity", "Die Feuchte", "L'umidità"},
    {"A new instrument", "Ein neues Instrument", "Un nuovo strumento"},
    {"The instrument", "Das Instrument", "Lo strumento"},
    {"A new plate", "Eine neue Platte", "Una nuova piastra"},
    {"The plate", "Die Platte", "La piastra"},
    {"The session", "Die Sitzung", "La sessione"},
    {"label", "Bezeichnung", "etichetta"},
    {"kind", "Art", "tipo"},
    {"notes", "Notizen", "note"},
    {"part", "Teil", "parte"},
    {"wood: kind, origin, cut", "Holz: Art, Herkunft, Schnitt", "legno: specie, origine, taglio"},
    {"density, kg/m\u00b3", "Dichte, kg/m\u00b3", "densità, kg/m\u00b3"},
    {"notes: outline, arching, grain", "Notizen: Umriss, Wölbung, Jahrringe",
     "note: forma, bombatura, venatura"},
    {"mass, g", "Masse, g", "massa, g"},
    {"stage of the work", "Stand der Arbeit", "stadio del lavoro"},
    {"temperature, \u00b0C", "Temperatur, \u00b0C", "temperatura, \u00b0C"},
    {"humidity, %", "Feuchte, %", "umidità, %"},
    {"Session", "Sitzung", "Sessione"},
    {"belongs to", "gehört zu", "appartiene a"},
    {"begun", "begonnen", "iniziata"},
    {"struck at", "angeschlagen", "battuto in"},
    {"Take this tap out", "Diesen Schlag herausnehmen", "Togli questo colpo"},
    {"the tap", "den Schlag", "il colpo"},
    {"Count it", "Zählen lassen", "Contalo"},
    {"Take all readings out", "Alle Messwerte herausnehmen", "Togli tutte le misure"},
    {"No session to look into", "Keine Sitzung zum Hineinsehen", "Nessuna sessione da guardare"},
    {"Put a plate on the bench, begin a session and tap: its taps can then be heard again here, "
     "and each be seen beside its fit.",
     "Eine Platte auf die Werkbank legen, eine Sitzung beginnen und anschlagen: hier sind die "
     "Schläge dann wieder zu hören und jeder neben seiner Anpassung zu sehen.",
     "Mettere una piastra sul banco, iniziare una sessione e battere: qui si possono poi "
     "riascoltare i "
     "colpi, e vedere ciascuno accanto al suo adattamento."},
    {"{} partial", "{} Teilton", "{} parziale"},
    {"{} partials", "{} Teiltöne", "{} parziali"},
    {"Earlier one", "Frühere", "Precedente"},
    {"Later one", "Spätere", "Seguente"},
    {"Taps", "Schläge", "Colpi"},
    {"Play the tap", "Abspielen", "Riproduci"},
    {"Silence", "Ton aus", "Ferma"},
    {"Notes", "Notizen", "Note"},
    {"None. Under Plates a session is corrected, its notes too.",
     "Keine. Unter Platten wird eine Sitzung berichtigt, auch ihre Notizen.",
     "Nessuna. Sotto Piastre si corregge una sessione, anche le sue note."},
    {"Choose a tap whose sound was kept: its spectrum, the fit and what the fit leaves over show "
     "here.",
     "Einen Schlag wählen, dessen Ton aufbewahrt ist: sein Spektrum, die Anpassung und deren Rest "
     "stehen hier.",
     "Scegliere un colpo di cui si è conservato il suono: qui appaiono lo spettro, l'adattamento e "
     "ciò che ne resta."},
    {"Fit: {} ({} dB left over)", "Anpassung: {} ({} dB bleiben)",
     "Adattamento: {} (restano {} dB)"},
    {"very good", "sehr gut", "ottimo"},
    {"good", "gut", "buono"},
    {"fair", "mäßig", "discreto"},
    {"poor", "schlecht", "scarso"},
});

} // namespace platewright::wording
