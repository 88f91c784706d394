#pragma once
#include "wording/row.hpp"

namespace platewright::wording {

/// What advice rests on: the map carried on, why there is no plan, masses that can't be, lasting
/// steps.
inline constexpr auto k_advice_phrases = std::to_array<Row>({
    {"map of", "Karte vom", "mappa del"},
    {"as tapped on", "wie geklopft am", "come battuta il"},
    {"Modes without a name that the model explains count as well: {} Hz.",
     "Moden ohne Namen, die das Modell erklärt, zählen mit: {} Hz.",
     "Contano anche i modi senza nome che il modello spiega: {} Hz."},
    {"The map is of {}; {} g have come off since, by the scales. It is carried on as if they had "
     "come off evenly: where they did is not known, so the forecasts are wider. A new map makes "
     "them surer.",
     "Die Karte ist vom {}; seither kamen nach der Waage {} g herunter. Sie wird fortgeführt, als "
     "wären sie gleichmäßig abgenommen: wo, ist nicht bekannt, darum sind die Vorhersagen breiter. "
     "Eine neue Karte macht sie sicherer.",
     "La mappa è del {}; da allora, secondo la bilancia, sono stati tolti {} g. È portata avanti "
     "come se fossero tolti in modo uniforme: dove, non si sa, perciò le previsioni sono più "
     "larghe. Una nuova mappa le rende più sicure."},
    {"The map is of {}; {} g have come off since, by the scales. It is carried on as if {} g had "
     "come off where it was planned, and the rest evenly: the forecasts are wider by what may lie "
     "elsewhere. A new map makes them surer.",
     "Die Karte ist vom {}; seither kamen nach der Waage {} g herunter. Sie wird fortgeführt, als "
     "wären davon {} g dort abgenommen, wo es geplant war, und der Rest gleichmäßig: die "
     "Vorhersagen sind um das breiter, was anderswo liegen mag. Eine neue Karte macht sie "
     "sicherer.",
     "La mappa è del {}; da allora, secondo la bilancia, sono stati tolti {} g. È portata avanti "
     "come se {} g fossero tolti dove era previsto e il resto in modo uniforme: le previsioni sono "
     "più larghe per quanto può trovarsi altrove. Una nuova mappa le rende più sicure."},
    {"There is no plan: the newest map is of {}, and {} g have come off since, too much to say "
     "where the wood is now. Take a new map first.",
     "Es gibt keinen Plan: die neueste Karte ist vom {}, und seither kamen {} g herunter, zu viel, "
     "um zu sagen, wo das Holz jetzt ist. Zuerst eine neue Karte aufnehmen.",
     "Non c'è un piano: l'ultima mappa è del {}, e da allora sono stati tolti {} g, troppo per "
     "dire dove sia ora il legno. Prima fare una nuova mappa."},
    {"There is no plan: the newest map is of {}, before f-holes were cut or a bar was fitted. Take "
     "a new map first.",
     "Es gibt keinen Plan: die neueste Karte ist vom {}, vor dem Schneiden der F-Löcher oder dem "
     "Einpassen des Balkens. Zuerst eine neue Karte aufnehmen.",
     "Non c'è un piano: l'ultima mappa è del {}, prima del taglio delle effe o della catena. Prima "
     "fare una nuova mappa."},
    {"There is no plan: the newest map is of {}, and what came off since is not known. Weigh the "
     "plate, or take a new map, first.",
     "Es gibt keinen Plan: die neueste Karte ist vom {}, und was seither abgenommen wurde, ist "
     "nicht bekannt. Zuerst die Platte wiegen oder eine neue Karte aufnehmen.",
     "Non c'è un piano: l'ultima mappa è del {}, e quanto è stato tolto da allora non si sa. Prima "
     "pesare la piastra o fare una nuova mappa."},
    {"There is no plan: the plate weighs {} g more than when its newest map was taken, on {}. Is "
     "one of the masses wrong? If not, take a new map first.",
     "Es gibt keinen Plan: die Platte wiegt {} g mehr als bei ihrer neuesten Karte vom {}. Ist "
     "eine der Massen falsch? Wenn nicht, zuerst eine neue Karte aufnehmen.",
     "Non c'è un piano: la piastra pesa {} g più di quando fu fatta l'ultima mappa, il {}. Una "
     "delle masse è sbagliata? Se no, prima fare una nuova mappa."},
    {"There is no plan: the plate was weighed on {}, {} g lighter than at its newest taps. Tap it "
     "first.",
     "Es gibt keinen Plan: die Platte wurde am {} gewogen, {} g leichter als bei ihren neuesten "
     "Schlägen. Zuerst klopfen.",
     "Non c'è un piano: la piastra è stata pesata il {}, {} g più leggera che agli ultimi colpi. "
     "Prima batterla."},
    {"There is no plan, for its forecasts would mislead. {}",
     "Es gibt keinen Plan, denn seine Vorhersagen würden in die Irre führen. {}",
     "Non c'è un piano, perché le sue previsioni trarrebbero in inganno. {}"},
    {"The sessions are set over to the air of {}: {} °C, {} % humidity. \"Now\" is as tapped then.",
     "Die Sitzungen sind auf die Luft vom {} umgerechnet: {} °C, {} % Feuchte. „Jetzt“ ist wie "
     "damals geklopft.",
     "Le sessioni sono riportate all'aria del {}: {} °C, {} % di umidità. «Ora» è come battuto "
     "allora."},
    {"further off than its uncertainty, in one air. Was the wood taken where the plan said, and "
     "had the plate settled?",
     "weiter weg als ihre Unsicherheit, in einer Luft. Wurde das Holz dort genommen, wo der Plan "
     "es sagte, und hatte sich die Platte angepasst?",
     "più lontano della sua incertezza, in un'aria sola. Il legno è stato tolto dove diceva il "
     "piano, e la piastra si era assestata?"},
    {"{} g can't be right beside the {} g of {}: the plate would have gained {} g between them. Is "
     "a digit wrong, here or there? Nothing was stored.",
     "{} g können neben den {} g vom {} nicht stimmen: die Platte hätte dazwischen {} g "
     "zugenommen. Ist eine Ziffer falsch, hier oder dort? Nichts wurde gespeichert.",
     "{} g non possono essere giusti accanto ai {} g del {}: la piastra sarebbe cresciuta di {} g "
     "nel mezzo. Una cifra è sbagliata, qui o là? Nulla è stato salvato."},
    {"The plate gained {} g between {} and {}, more than damp air, a bar or varnish explain: is a "
     "mass mistyped?",
     "Die Platte nahm zwischen {1} und {2} um {0} g zu, mehr als feuchte Luft, ein Balken oder "
     "Lack erklären: ist eine Masse vertippt?",
     "La piastra è cresciuta di {} g tra {} e {}, più di quanto spieghino aria umida, catena o "
     "vernice: una massa è digitata male?"},
    {"{} stepped by {} Hz between {} and {} and stayed there, more than the wood taken explains (a "
     "bar trimmed or glued anew, purfling, varnish?): its forecast counts from after the step.",
     "{0} sprang zwischen {2} und {3} um {1} Hz und blieb dort, mehr als das abgenommene Holz "
     "erklärt (Balken beschnitten oder neu geleimt, Einlage, Lack?): ihre Vorhersage zählt ab dem "
     "Sprung.",
     "{} è saltato di {} Hz tra {} e {} ed è rimasto lì, più di quanto spieghi il legno tolto "
     "(catena rifilata o rincollata, filetto, vernice?): la sua previsione conta da dopo il "
     "salto."},
});

} // namespace platewright::wording
