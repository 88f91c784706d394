#pragma once
#include "wording/row.hpp"

namespace platewright::wording {

/// The first walk through the demo, and where its strikes come from.
inline constexpr auto k_walk_phrases = std::to_array<Row>({
    {"recorded strikes (invented)", "aufgenommene Schläge (erfunden)",
     "colpi registrati (inventati)"},
    {"Nobody struck there when this was recorded: go on to another spot with Space.",
     "Dort hat bei der Aufnahme niemand geschlagen: mit der Leertaste zu einer anderen Stelle.",
     "Lì nessuno ha battuto durante la registrazione: passare a un altro punto con Spazio."},
    {"A first walk through the demo", "Ein erster Gang durch die Vorführung",
     "Un primo giro nella dimostrazione"},
    {"A first walk: one session and one decision on this invented plate, in five minutes. You "
     "strike with a key; its strikes were recorded.",
     "Ein erster Gang: eine Sitzung und eine Entscheidung an dieser erfundenen Platte, in fünf "
     "Minuten. Geschlagen wird mit einer Taste; die Schläge sind aufgenommen.",
     "Un primo giro: una sessione e una decisione su questa piastra inventata, in cinque minuti. "
     "Si batte con un tasto; i colpi sono registrati."},
    {"Begin the walk", "Gang beginnen", "Comincia il giro"},
    {"Not now", "Nicht jetzt", "Non ora"},
    {"Leave the walk", "Gang verlassen", "Lascia il giro"},
    {"The walk goes on at the bench (F1), with the plate “{}”.",
     "Der Gang geht an der Werkbank weiter (F1), mit der Platte „{}“.",
     "Il giro prosegue al banco (F1), con la piastra «{}»."},
    {"Step {} of 5. {}", "Schritt {} von 5. {}", "Passo {} di 5. {}"},
    {"A session is one visit to the bench with a plate: N begins one.",
     "Eine Sitzung ist ein Besuch an der Werkbank mit einer Platte: N beginnt eine.",
     "Una sessione è una visita al banco con una piastra: N ne comincia una."},
    {"The program wants to know where you strike: Space goes from spot to spot. Begin at the "
     "centre.",
     "Das Programm möchte wissen, wo Sie schlagen: die Leertaste geht von Stelle zu Stelle. In der "
     "Mitte beginnen.",
     "Il programma vuole sapere dove si batte: Spazio passa da un punto all'altro. Cominciare dal "
     "centro."},
    {"Strike {} of {}: A strikes the plate. The answer stands at the top; after three good ones "
     "the spot goes on by itself.",
     "Schlag {} von {}: A schlägt die Platte an. Die Antwort steht oben; nach drei guten geht es "
     "von selbst zur nächsten Stelle.",
     "Colpo {} di {}: A batte la piastra. La risposta sta in alto; dopo tre buoni si passa da soli "
     "al punto seguente."},
    {"Strike {} of {} (A), at another spot: names get surer. The bench has enough to decide by: W "
     "goes on to the mass.",
     "Schlag {} von {} (A), an anderer Stelle: die Namen werden sicherer. Der Werkbank genügt es "
     "schon: W geht weiter zur Masse.",
     "Colpo {} di {} (A), in altro punto: i nomi si fanno più sicuri. Al banco basta già: W passa "
     "alla massa."},
    {"That one was refused, as the top says; it does not count. Strike {} of {}: A once more.",
     "Dieser wurde abgelehnt, wie oben steht; er zählt nicht. Schlag {} von {}: noch einmal A.",
     "Questo è stato rifiutato, come si legge in alto; non conta. Colpo {} di {}: ancora A."},
    {"The balance reads {} g: {}, then type it as the mass, then Enter.",
     "Die Waage zeigt {} g: {}, dann als Masse eintippen, dann Eingabe.",
     "La bilancia segna {} g: {}, poi scriverlo come massa, poi Invio."},
    {"Read the sentence below the three figures. What does it advise?",
     "Den Satz unter den drei Werten lesen. Was rät er?",
     "Leggere la frase sotto le tre cifre. Che cosa consiglia?"},
    {"Not that: read it once more.", "Nicht das: noch einmal lesen.", "Non questo: rileggerla."},
    {"Not that. It says: {}", "Nicht das. Er sagt: {}", "Non questo. Dice: {}"},
    {"tap on", "weiterklopfen", "battere ancora"},
    {"take wood", "Holz abnehmen", "togliere legno"},
    {"stop here", "hier aufhören", "fermarsi qui"},
    {"set a goal", "ein Ziel setzen", "porre una meta"},
    {"weigh it", "wiegen", "pesarla"},
    {"measure first", "erst messen", "prima misurare"},
    {"That was one session and one decision. F2 shows the way to here, F12 explains each view. "
     "Wood taken off can't be put back: the program advises, you decide.",
     "Das war eine Sitzung und eine Entscheidung. F2 zeigt den Weg hierher, F12 erklärt jede "
     "Ansicht. Abgenommenes Holz kommt nicht zurück: das Programm rät, Sie entscheiden.",
     "È stata una sessione e una decisione. F2 mostra la strada fin qui, F12 spiega ogni vista. Il "
     "legno tolto non si rimette: il programma consiglia, decidete voi."},
    {"Strike", "Schlagen", "Batti"},
    {"Once more", "Noch einmal", "Ancora una volta"},
});

} // namespace platewright::wording
