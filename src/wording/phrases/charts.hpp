#pragma once
#include "wording/row.hpp"

namespace platewright::wording {

/// Charts, the drift through the sessions, and one plate beside another.
inline constexpr auto k_charts_phrases = std::to_array<Row>({
    {"Drift", "Verlauf", "Andamento"},
    {"Compare", "Vergleich", "Confronto"},
    {"frequency, Hz", "Frequenz, Hz", "frequenza, Hz"},
    {"level, dB", "Pegel, dB", "livello, dB"},
    {"last tap", "letzter Schlag", "ultimo colpo"},
    {"Tap the plate: its spectrum appears here.",
     "Die Platte anschlagen: ihr Spektrum erscheint hier.",
     "Battere sulla piastra: qui appare il suo spettro."},
    {"Choose a reference to set this plate against.",
     "Ein Vorbild wählen, neben das diese Platte gestellt wird.",
     "Scegliere un riferimento da mettere accanto a questa piastra."},
    {"forecast, 95 %", "Vorhersage, 95 %", "previsione, 95 %"},
    {"other modes", "andere Moden", "altri modi"},
    {"reference", "Vorbild", "riferimento"},
    {"{} session above", "{} Sitzung darüber", "{} sessione sopra"},
    {"{} sessions above", "{} Sitzungen darüber", "{} sessioni sopra"},
    {"stands off", "fällt heraus", "si discosta"},
    {"{} session stands off", "{} Sitzung fällt heraus", "{} sessione si discosta"},
    {"{} sessions stand off", "{} Sitzungen fallen heraus", "{} sessioni si discostano"},
    {"since last: {}", "seit voriger: {}", "dall'ultima: {}"},
    {"since first: {}", "seit erster: {}", "dalla prima: {}"},
    {"1 g less: {} ({} to {})", "1 g weniger: {} ({} bis {})", "1 g in meno: {} (da {} a {})"},
    {"goal {}: {}", "Ziel {}: {}", "meta {}: {}"},
    {"reference {}: {}", "Vorbild {}: {}", "riferimento {}: {}"},
    {"all modes", "alle Moden", "tutti i modi"},
    {"session", "Sitzung", "sessione"},
    {"day", "Tag", "giorno"},
    {"mass, g: wood comes off towards the right", "Masse, g: nach rechts wird Holz abgenommen",
     "massa, g: verso destra si toglie legno"},
    {"cents from the first session", "Cent seit der ersten Sitzung", "cent dalla prima sessione"},
    {"No session of this plate has a mass yet: weigh it and enter the grams.",
     "Noch keine Sitzung dieser Platte hat eine Masse: wiegen und die Gramm eintragen.",
     "Nessuna sessione di questa piastra ha ancora una massa: pesarla e scrivere i grammi."},
    {"The drift shows from the second session on.",
     "Der Verlauf zeigt sich ab der zweiten Sitzung.",
     "L'andamento si vede dalla seconda sessione."},
    {"{} \u00b1 {} Hz, {} cents", "{} \u00b1 {} Hz, {} Cent", "{} \u00b1 {} Hz, {} cent"},
    {"{} Hz ({} to {})", "{} Hz ({} bis {})", "{} Hz (da {} a {})"},
    {"Nothing to follow yet", "Noch nichts zu verfolgen", "Ancora nulla da seguire"},
    {"The drift of a plate shows once it has been tapped in two sessions or more. Put a plate on "
     "the "
     "bench and tap it.",
     "Der Verlauf einer Platte zeigt sich, sobald sie in zwei oder mehr Sitzungen angeschlagen "
     "wurde. Eine Platte auf die Werkbank legen und anschlagen.",
     "L'andamento di una piastra si vede quando è stata battuta in due o più sessioni. Mettere una "
     "piastra sul banco e battere."},
    {"by session", "nach Sitzung", "per sessione"},
    {"by mass", "nach Masse", "per massa"},
    {"by day", "nach Tag", "per giorno"},
    {"in Hz", "in Hz", "in Hz"},
    {"in cents", "in Cent", "in cent"},
    {"change", "wechseln", "cambia"},
    {"{} tap", "{} Schlag", "{} colpo"},
    {"{} taps", "{} Schläge", "{} colpi"},
    {"A click opens it.", "Ein Klick öffnet sie.", "Un clic la apre."},
    {"Keep picture", "Bild aufheben", "Conserva immagine"},
    {"Kept: {} and .svg", "Aufgehoben: {} und .svg", "Conservata: {} e .svg"},
    {"Show all", "Alles zeigen", "Mostra tutto"},
    {"Ctrl and the wheel look closer, a drag moves.",
     "Strg und Rad holen heran, Ziehen verschiebt.", "Ctrl e la rotella avvicinano."},
    {"The wheel looks closer, a drag moves.", "Das Rad holt heran, Ziehen verschiebt.",
     "La rotella avvicina."},
    {"as heard", "wie gehört", "come udito"},
    {"the fit", "die Anpassung", "l'adattamento"},
    {"left over", "der Rest", "il resto"},
    {"since last", "seit voriger", "dall'ultima"},
    {"since first", "seit erster", "dalla prima"},
    {"1 g less", "1 g weniger", "1 g in meno"},
    {"A forecast for the next gram appears after three weighed sessions of this plate.",
     "Eine Vorhersage für das nächste Gramm erscheint nach drei gewogenen Sitzungen dieser Platte.",
     "Una previsione per il prossimo grammo appare dopo tre sessioni pesate di questa piastra."},
    {"Put a plate on the bench; then it can be set beside a reference or beside an earlier session "
     "of its own.",
     "Eine Platte auf die Werkbank legen; dann kann sie neben ein Vorbild oder neben eine eigene "
     "frühere Sitzung gestellt werden.",
     "Mettere una piastra sul banco; poi la si può mettere accanto a un riferimento o a una "
     "propria "
     "sessione precedente."},
    {"Compare with what?", "Womit vergleichen?", "Confrontare con che cosa?"},
    {"Choose what this plate is set beside: a reference, or an earlier session. A session becomes "
     "a "
     "reference in the plates view.",
     "Wählen, neben was diese Platte gestellt wird: ein Vorbild oder eine frühere Sitzung. "
     "Unter Platten wird eine Sitzung zum Vorbild gemacht.",
     "Scegliere accanto a che cosa mettere questa piastra: un riferimento o una sessione "
     "precedente. Sotto Piastre una sessione diventa un riferimento."},
    {"References", "Vorbilder", "Riferimenti"},
    {"None yet. In the plates view a session you liked can be made one.",
     "Noch keine. Unter Platten kann eine gute Sitzung dazu gemacht werden.",
     "Ancora nessuno. Sotto Piastre una sessione riuscita può diventarlo."},
    {"This plate's sessions", "Sitzungen dieser Platte", "Sessioni di questa piastra"},
    {"Compared with {}", "Verglichen mit {}", "A confronto con {}"},
    {"Mode 5 to mode 2: {} here, {} there.", "Mode 5 zu Mode 2: {} hier, {} dort.",
     "Modo 5 su modo 2: {} qui, {} là."},
    {"This plate is {} g lighter.", "Diese Platte ist {} g leichter.",
     "Questa piastra è {} g più leggera."},
    {"This plate is {} g heavier.", "Diese Platte ist {} g schwerer.",
     "Questa piastra è {} g più pesante."},
    {"mode", "Mode", "modo"},
    {"this plate", "diese", "questa"},
    {"difference, Hz", "Unterschied, Hz", "differenza, Hz"},
    {"cents", "Cent", "cent"},
    {"{}{} {} cents", "{}{} {} Cent", "{}{} {} cent"}, // F4 +17 cents
    {"Q to Q", "Q zu Q", "Q su Q"},
    {"real?", "echt?", "reale?"},
    {"yes", "ja", "sì"},
    {"no", "nein", "no"},
});

} // namespace platewright::wording
