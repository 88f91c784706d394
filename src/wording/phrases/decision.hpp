#pragma once
#include "wording/row.hpp"

namespace platewright::wording {

/// Stop, or take more: what the bench advises, and why.
inline constexpr auto k_decision_phrases = std::to_array<Row>({
    {"{} is {} \u00b1 {} Hz above its goal.", "{} liegt {} \u00b1 {} Hz über dem Ziel.",
     "{} è {} \u00b1 {} Hz sopra la meta."},
    {"{} is {} \u00b1 {} Hz above its goal, by its last {} sessions.",
     "{} liegt {} \u00b1 {} Hz über dem Ziel, nach den letzten {} Sitzungen.",
     "{} è {} \u00b1 {} Hz sopra la meta, secondo le ultime {} sessioni."},
    {"{} is {} \u00b1 {} Hz above the reference.", "{} liegt {} \u00b1 {} Hz über dem Vorbild.",
     "{} è {} \u00b1 {} Hz sopra il riferimento."},
    {"{} is {} \u00b1 {} Hz above the reference, by its last {} sessions.",
     "{} liegt {} \u00b1 {} Hz über dem Vorbild, nach den letzten {} Sitzungen.",
     "{} è {} \u00b1 {} Hz sopra il riferimento, secondo le ultime {} sessioni."},
    {"So say its last {} sessions.", "So sagen es die letzten {} Sitzungen.",
     "Così dicono le ultime {} sessioni."},
    {"A plan counts from the last {} sessions, carried on by what came off since: {}.",
     "Ein Plan zählt von den letzten {} Sitzungen an, fortgeführt um das seither Abgenommene: {}.",
     "Un piano conta dalle ultime {} sessioni, portate avanti con il legno tolto da allora: {}."},
    {"Next pass: {} g", "Durchgang: {} g", "Passata: {} g"},
    {"{} g at most, here", "Höchstens {} g, hier", "{} g al massimo, qui"},
    {"All of the pass is {} g: of that {} g at most, then tap again.",
     "Der ganze Durchgang sind {} g: davon höchstens {} g, dann neu anschlagen.",
     "Tutta la passata è {} g: di questi al massimo {} g, poi battere di nuovo."},
    {"the deepest place {} mm from the edge", "tiefste Stelle {} mm vom Rand",
     "il punto più fondo a {} mm dal bordo"},
    {"Not drawn here: {}.", "Hier nicht gezeichnet: {}.", "Qui non disegnata: {}."},
    {"The air has changed since {}: that alone can move a mode by {} to {} cents. Let the plate "
     "settle, or compare in one air (F2, K).",
     "Die Luft hat sich seit {} geändert: das allein kann eine Mode um {} bis {} Cent verschieben. "
     "Die Platte ruhen lassen, oder in einer Luft vergleichen (F2, K).",
     "L'aria è cambiata dal {}: già questo può spostare un modo da {} a {} cent. Lasciar assestare "
     "la piastra, o confrontare in una sola aria (F2, K)."},
    {"{} Hz for {}? It is at {} Hz; work leads to somewhere from {} to {} Hz.",
     "{} Hz für {}? Sie liegt bei {} Hz; Arbeit führt auf etwa {} bis {} Hz.",
     "{} Hz per {}? È a {} Hz; il lavoro porta a circa {}\u2013{} Hz."},
    {"{} Hz for {}? Instruments of this kind have it between {} and {} Hz.",
     "{} Hz für {}? Bei Instrumenten dieser Art liegt sie zwischen {} und {} Hz.",
     "{} Hz per {}? Negli strumenti di questo tipo sta fra {} e {} Hz."},
    {"If it is meant so, press again.", "Ist es so gemeint, noch einmal drücken.",
     "Se è voluto, premere di nuovo."},
    {"to the goal", "zum Ziel", "alla meta"},
    {"and {} more remark: a higher window shows it.",
     "und {} Bemerkung mehr: ein höheres Fenster zeigt sie.",
     "e {} altra nota: una finestra più alta la mostra."},
    {"and {} more remarks: a higher window shows them.",
     "und {} Bemerkungen mehr: ein höheres Fenster zeigt sie.",
     "e altre {} note: una finestra più alta le mostra."},
    {"Wood taken off can't be put back. Ranges of 95 %; small steps; hands behind the edge; no "
     "dust in your lungs.",
     "Was weg ist, kommt nicht wieder. 95-%-Bereiche; kleine Schritte; Hände hinter die Schneide; "
     "keinen Staub einatmen.",
     "Il legno tolto non torna. Intervalli del 95 %; piccoli passi; mani dietro il filo; niente "
     "polvere nei polmoni."},
    {"{} more good tap.", "Noch {} guter Schlag.", "Ancora {} colpo buono."},
    {"{} more good taps.", "Noch {} gute Schläge.", "Ancora {} colpi buoni."},
    {"{} more good tap here: {}.", "Noch {} guter Schlag, hier: {}.",
     "Ancora {} colpo buono, qui: {}."},
    {"{} more good taps here: {}.", "Noch {} gute Schläge, hier: {}.",
     "Ancora {} colpi buoni, qui: {}."},
    {"Enough taps. Set a goal.", "Genug Schläge. Ein Ziel setzen.",
     "Colpi sufficienti. Fissare una meta."},
    {"First the microphone, then wood.", "Erst das Mikrofon, dann das Holz.",
     "Prima il microfono, poi il legno."},
    {"The advice stands here again once the plate can be heard.",
     "Der Rat steht wieder hier, sobald die Platte zu hören ist.",
     "Il consiglio torna qui appena si sente di nuovo la piastra."},
    {"Wait: its model is being asked.", "Warten: das Modell wird gefragt.",
     "Attendere: si interroga il modello."},
    {"Why its model can't tell: F8, Next pass.",
     "Warum das Modell nichts sagen kann: F8, Durchgang.",
     "Perché il modello non sa dirlo: F8, Passata."},
    {"Whether wood may go, how much and where, stands here in some seconds.",
     "Ob Holz wegdarf, wie viel und wo, steht hier in einigen Sekunden.",
     "Se può andar via del legno, quanto e dove, sta qui tra qualche secondo."},
    {"Enough taps. Weigh it.", "Genug Schläge. Wiegen.", "Colpi sufficienti. Pesare."},
    {"More taps won't tell. Name it by hand: M.",
     "Mehr Schläge sagen es nicht. Von Hand benennen: M.",
     "Altri colpi non lo dicono. Dare il nome a mano: M."},
    {"See which plate hangs here, then tap it.",
     "Nachsehen, welche Platte hier hängt, dann klopfen.",
     "Guardare quale piastra è appesa qui, poi batterla."},
    {"The last tap rang like another plate.", "Der letzte Schlag klang nach einer anderen Platte.",
     "L'ultimo colpo suonava come un'altra piastra."},
    {"Stop: {} is {} Hz below its goal. Thinning can't raise it.",
     "Halt: {} liegt {} Hz unter dem Ziel. Dünner wird sie nicht höher.",
     "Fermarsi: {} è {} Hz sotto la meta. Assottigliando non sale."},
    {"Stop: {} is {} Hz below the reference. Thinning can't raise it.",
     "Halt: {} liegt {} Hz unter dem Vorbild. Dünner wird sie nicht höher.",
     "Fermarsi: {} è {} Hz sotto il riferimento. Assottigliando non sale."},
    {"Stop: {} is at the reference.", "Halt: {} ist beim Vorbild.",
     "Fermarsi: {} è al riferimento."},
    {"Thinning can't bring {} to the reference: {} Hz is the lowest.",
     "Dünner kommt {} nicht bis zum Vorbild: tiefer als {} Hz geht es nicht.",
     "Assottigliando {} non arriva al riferimento: il minimo è {} Hz."},
    {"Thinning can't bring {} to its goal: {} Hz is the lowest.",
     "Dünner kommt {} nicht ans Ziel: tiefer als {} Hz geht es nicht.",
     "Assottigliando {} non arriva alla meta: il minimo è {} Hz."},
    {"By its model thinning leads to {} \u00b1 {} Hz (95 %), no place under {} mm, no hollow over "
     "{} "
     "mm; {}. Set another goal, or plan with other limits, under Plate (F8): wood can't be "
     "put back.",
     "Nach dem Modell führt Abnehmen bis {} \u00b1 {} Hz (95 %), keine Stelle unter {} mm, keine "
     "Mulde über {} mm; {}. Unter Platte (F8) ein anderes Ziel setzen oder mit anderen "
     "Grenzen planen: Holz kommt nicht wieder.",
     "Secondo il modello assottigliando si arriva a {} \u00b1 {} Hz (95 %), nessun punto sotto {} "
     "mm, "
     "nessun incavo oltre {} mm; {}. Con F8 cambiare la meta o pianificare con altri "
     "limiti: "
     "il legno non torna."},
    {"Stop: {} is at its goal.", "Halt: {} ist am Ziel.", "Fermarsi: {} è alla meta."},
    {"Take {} g at most, then tap again.", "Höchstens {} g abnehmen, dann neu anschlagen.",
     "Togliere al massimo {} g, poi battere di nuovo."},
    {"Take {} g at most: {}. Then tap again.", "Höchstens {} g abnehmen: {}. Dann neu anschlagen.",
     "Togliere al massimo {} g: {}. Poi battere di nuovo."},
    {"both sides", "beide Seiten", "entrambi i lati"},
    {"Measure first. {}", "Erst messen. {}", "Prima misurare. {}"},
    {"So wide is the doubt that {} g is all that may go now; measuring leaves {} % of it in about "
     "{} min.",
     "So groß ist der Zweifel, dass jetzt nur {} g wegdürfen; Messen lässt davon {} % in etwa {} "
     "min.",
     "Il dubbio è tale che ora si possono togliere solo {} g; misurare ne lascia il {} % in circa "
     "{} min."},
    {"By its model and its own sessions {} g are left there ({} to {}); it can't be put back.",
     "Nach Modell und eigenen Sitzungen bleiben dort {} g ({} bis {}); Holz kommt nicht wieder.",
     "Secondo il modello e le sue sessioni restano lì {} g (da {} a {}); il legno non torna."},
    {"By its model {} g are left there ({} to {}); it can't be put back.",
     "Nach dem Modell bleiben dort {} g ({} bis {}); Holz kommt nicht wieder.",
     "Secondo il modello restano lì {} g (da {} a {}); il legno non torna."},
    {"{} would go beyond the reference, {} Hz, with a chance of {} %.",
     "{} ginge über das Vorbild, {} Hz, hinaus, mit einer Wahrscheinlichkeit von {} %.",
     "{} andrebbe oltre il riferimento, {} Hz, con una probabilità del {} %."},
    {"{} would go beyond its goal of {} Hz with a chance of {} %.",
     "{} ginge über ihr Ziel von {} Hz hinaus, mit einer Wahrscheinlichkeit von {} %.",
     "{} andrebbe oltre la sua meta di {} Hz con una probabilità del {} %."},
    {"far more", "weit mehr", "molto di più"},
    {"{} is not sure enough yet to decide by.",
     "{} ist noch nicht sicher genug, um danach zu entscheiden.",
     "{} non è ancora abbastanza sicuro per decidere."},
    {"{} is not found yet.", "{} ist noch nicht gefunden.", "{} non è ancora trovato."},
    {"A reference is chosen under Compare (F3), a target typed under Plate, Next pass (F8).",
     "Ein Vorbild wählt man unter Vergleich (F3), ein Ziel tippt man unter Platte, Durchgang (F8).",
     "Un riferimento si sceglie con F3, una meta si scrive con F8, Passata."},
    {"Grams tell how much may go: enter its mass.",
     "Erst die Gramm sagen, wie viel noch weg darf: die Masse eintragen.",
     "I grammi dicono quanto può andar via: inserire la massa."},
    {"{} Hz \u00b1 {} Hz (95 %, hanging anew included), {}. Wood taken off can't be put "
     "back.",
     "{} Hz \u00b1 {} Hz (95 %, mit neuem Aufhängen), {}. Was weg ist, kommt nicht wieder.",
     "{} Hz \u00b1 {} Hz (95 %, riappendendo), {}. Il legno tolto non torna."},
    {"{} Hz \u00b1 {} Hz (95 %, hanging anew included), {}: within its doubt. Wood taken "
     "off "
     "can't be put back.",
     "{} Hz \u00b1 {} Hz (95 %, mit neuem Aufhängen), {}: so genau man es weiß. Was weg "
     "ist, "
     "kommt nicht wieder.",
     "{} Hz \u00b1 {} Hz (95 %, riappendendo), {}: per quanto si sa. Il legno tolto non "
     "torna."},
    {"A pass as large as usual would go beyond it with a chance of {} %: it can't be put back.",
     "Ein Durchgang wie üblich ginge mit {} % Wahrscheinlichkeit darüber hinaus: Holz kommt nicht "
     "wieder.",
     "Una passata come le solite andrebbe oltre con una probabilità del {} %: il legno non torna."},
    {"By this plate's own sessions {} g are left ({} to {}); it can't be put back.",
     "Nach den eigenen Sitzungen dieser Platte bleiben {} g ({} bis {}); Holz kommt nicht wieder.",
     "Secondo le sessioni di questa piastra restano {} g (da {} a {}); il legno non torna."},
    {"There is no forecast of this plate yet: so little stays above it even where a gram does "
     "three times as much as spread evenly. It can't be put back.",
     "Noch keine Vorhersage für diese Platte: so wenig bleibt darüber, auch wo ein Gramm dreimal "
     "so viel bewirkt wie gleichmäßig verteilt. Holz kommt nicht wieder.",
     "Nessuna previsione ancora per questa piastra: così poco resta sopra, anche dove un grammo fa "
     "il triplo che sparso. Il legno non torna."},
});

} // namespace platewright::wording
