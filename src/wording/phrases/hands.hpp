#pragma once
#include "wording/row.hpp"

namespace platewright::wording {

/// What is asked and said around the program itself: a bundle that was double-clicked.
inline constexpr auto k_hands_phrases = std::to_array<Row>({
    {"Take “{}” into your ledger?", "„{}“ in Ihr Werkbuch übernehmen?",
     "Accogliere «{}» nel registro?"},
    {"“{}” can't be taken in", "„{}“ kann nicht übernommen werden", "«{}» non può essere accolto"},
    {"It would bring: {}.", "Es käme hinzu: {}.", "Porterebbe: {}."},
    {"All of it is in your ledger already; nothing would be added.",
     "Alles davon ist schon in Ihrem Werkbuch; nichts käme hinzu.",
     "Tutto ciò è già nel registro; nulla si aggiungerebbe."},
    {"{} thing is here already and stays as it is.", "{} Ding ist schon da und bleibt, wie es ist.",
     "{} cosa c'è già e resta com'è."},
    {"{} things are here already and stay as they are.",
     "{} Dinge sind schon da und bleiben, wie sie sind.",
     "{} cose ci sono già e restano come sono."},
    {"In {} place the bundle says something else: your ledger's own word stands.",
     "An {} Stelle sagt das Bündel etwas anderes: das Wort Ihres Werkbuchs gilt.",
     "In {} punto il pacchetto dice altro: vale la parola del registro."},
    {"In {} places the bundle says something else: your ledger's own word stands.",
     "An {} Stellen sagt das Bündel etwas anderes: das Wort Ihres Werkbuchs gilt.",
     "In {} punti il pacchetto dice altro: vale la parola del registro."},
    {"The ledger: {}", "Das Werkbuch: {}", "Il registro: {}"},
    {"What was taken in can be taken out again as a whole: platewright bundle undo.",
     "Was übernommen wurde, lässt sich als Ganzes wieder herausnehmen: platewright bundle undo.",
     "Ciò che è stato accolto si può togliere di nuovo per intero: platewright bundle undo."},
    {"Take it in", "Übernehmen", "Accogliere"},
    {"Leave it", "Nicht übernehmen", "Lasciare"},
    {"Close the guide", "Anleitung schließen", "Chiudi la guida"},
    {"The guide is not installed beside this program.",
     "Die Anleitung ist neben diesem Programm nicht installiert.",
     "La guida non è installata accanto a questo programma."},
    {"F12: the guide to this view", "F12: die Anleitung zu dieser Ansicht",
     "F12: la guida a questa vista"},
    {"Close", "Schließen", "Chiudere"},
    {"The ledger can only be read now, because {}: close that program first. Nothing was taken in.",
     "Das Werkbuch ist jetzt nur lesbar, denn {}: erst jenes Programm schließen. Nichts wurde "
     "übernommen.",
     "Il registro ora si può solo leggere, perché {}: chiudere prima quel programma. Nulla è stato "
     "accolto."},
    {"{} instrument", "{} Instrument", "{} strumento"},
    {"{} instruments", "{} Instrumente", "{} strumenti"},
    {"{} plate or body", "{} Platte oder Korpus", "{} piastra o cassa"},
    {"{} plates or bodies", "{} Platten oder Korpusse", "{} piastre o casse"},
    {"{} wood", "{} Holz", "{} legno"},
    {"{} woods", "{} Hölzer", "{} legni"},
    {"{} other entry", "{} weiterer Eintrag", "{} altra voce"},
    {"{} other entries", "{} weitere Einträge", "{} altre voci"},
});

} // namespace platewright::wording
