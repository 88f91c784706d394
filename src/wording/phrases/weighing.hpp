#pragma once
#include "wording/row.hpp"

namespace platewright::wording {

/// Weighing a mode with a small mass, a cut tried on the model, and what to measure before it.
inline constexpr auto k_weighing_phrases = std::to_array<Row>({
    {"weighing", "Wägung", "pesata"},
    {"putty", "Knete", "plastilina"},
    {"a pair of magnets", "ein Magnetpaar", "una coppia di magneti"},
    {"with the mass on", "mit dem Gewicht", "con il peso"},
    {"Trial", "Probe", "Prova"},
    {"Weigh the modes here", "Die Moden hier wägen", "Pesare qui i modi"},
    {"What is laid on", "Was aufgelegt wird", "Che cosa si posa"},
    {"Its mass, g", "Seine Masse, g", "La sua massa, g"},
    {"It may lie off by, mm", "Ort unsicher um, mm", "Posizione incerta di, mm"},
    {"Weigh at the cross", "Am Kreuz wägen", "Pesa alla croce"},
    {"The doubt of its place", "Die Unsicherheit des Orts", "L'incertezza del posto"},
    {"A hundredth of the plate's mass, weighed to 0.02 g, leaves no mark. Tap bare, with it, bare "
     "again; the plate stays where it hangs. Which is which is heard.",
     "Ein Hundertstel der Plattenmasse, auf 0,02 g gewogen, hinterlässt keine Spur. Klopfen ohne, "
     "mit, wieder ohne; die Platte bleibt hängen. Welche mit und welche ohne sind, hört das "
     "Programm.",
     "Un centesimo della massa della piastra, pesato a 0,02 g, non lascia segni. Battere senza, "
     "con, di nuovo senza; la piastra resta appesa. Il programma li distingue da sé."},
    {"Take this weighing out", "Diese Wägung herausnehmen", "Togli questa pesata"},
    {"Leave this weighing off", "Diese Wägung lassen", "Lascia questa pesata"},
    {"{} g, {}", "{} g, {}", "{} g, {}"},
    {"left out: {} deviations off the model", "nicht gerechnet: {} Abweichungen neben dem Modell",
     "non conta: {} deviazioni fuori dal modello"},
    {"Tap it bare", "Ohne Gewicht klopfen", "Battere senza peso"},
    {"{} of {} taps without the mass. Leave the plate hanging.",
     "{} von {} Schlägen ohne Gewicht. Die Platte hängen lassen.",
     "{} di {} colpi senza peso. Lasciare la piastra appesa."},
    {"mass", "Masse", "massa"},
    {"{} g, here", "{} g, hier", "{} g, qui"},
    {"Lay the mass on", "Gewicht auflegen", "Posare il peso"},
    {"{} g at x {}, y {} mm, then tap: {} of {} with it.",
     "{} g bei x {}, y {} mm, dann klopfen: {} von {} damit.",
     "{} g a x {}, y {} mm, poi battere: {} di {} con esso."},
    {"Take the mass off", "Gewicht abnehmen", "Togliere il peso"},
    {"Then tap the bare plate again: {} of {}.", "Dann die Platte wieder ohne klopfen: {} von {}.",
     "Poi battere di nuovo la piastra nuda: {} di {}."},
    {"Weighed modes", "Gewogene Moden", "Modi pesati"},
    {"bare Hz", "ohne Hz", "senza Hz"},
    {"with it Hz", "mit Hz", "con Hz"},
    {"fell by Hz", "gesunken um Hz", "calato di Hz"},
    {"{}: {} to {} Hz ({} ± {})", "{}: {} auf {} Hz ({} ± {})", "{}: da {} a {} Hz ({} ± {})"},
    {"Begin a session and tap the plate bare first: a mass is weighed against that. Nothing was "
     "stored.",
     "Erst eine Sitzung beginnen und die Platte ohne Gewicht klopfen: dagegen wird gewogen. Nichts "
     "wurde gespeichert.",
     "Prima iniziare una sessione e battere la piastra senza peso: si pesa rispetto a quella. "
     "Nulla è stato salvato."},
    {"A mass of {} g can't be laid on: give its grams, about a hundredth of the plate's. Nothing "
     "was stored.",
     "Eine Masse von {} g kann nicht aufgelegt werden: Gramm angeben, etwa ein Hundertstel der "
     "Platte. Nichts wurde gespeichert.",
     "Una massa di {} g non si può posare: indicare i grammi, circa un centesimo della piastra. "
     "Nulla è stato salvato."},
    {"{} g are more than a tenth of the plate: modes change too much to be followed. Take about a "
     "hundredth of its mass. Nothing was stored.",
     "{} g sind mehr als ein Zehntel der Platte: die Moden ändern sich zu sehr. Etwa ein "
     "Hundertstel ihrer Masse nehmen. Nichts wurde gespeichert.",
     "{} g sono più di un decimo della piastra: i modi cambiano troppo. Prendere circa un "
     "centesimo della sua massa. Nulla è stato salvato."},
    {"A place that may be {} mm off says nothing: give a few millimetres at most. Nothing was "
     "stored.",
     "Eine Stelle, die {} mm daneben liegen kann, sagt nichts: höchstens einige Millimeter. Nichts "
     "wurde gespeichert.",
     "Un punto che può stare fuori di {} mm non dice nulla: al massimo pochi millimetri. Nulla è "
     "stato salvato."},
    {"{}, {} mm is off the plate. Nothing was stored.",
     "{}, {} mm liegt neben der Platte. Nichts wurde gespeichert.",
     "{}, {} mm è fuori dalla piastra. Nulla è stato salvato."},
    {"The weighed taps contradict each other or the map: the model rests on the other taps alone. "
     "Weighing {} fits worst ({} deviations off): did the mass lie where it is said?",
     "Die gewogenen Schläge widersprechen einander oder der Karte: das Modell ruht nur auf den "
     "anderen. Wägung {} passt am schlechtesten ({} Abweichungen daneben): lag das Gewicht, wo es "
     "heißt?",
     "I colpi pesati si contraddicono o contraddicono la mappa: il modello poggia sugli altri "
     "soltanto. La pesata {} è la peggiore ({} deviazioni fuori): il peso stava dove è detto?"},
    {"Weighing {} doesn't belong to the rest ({} deviations off) and is left out: did the mass lie "
     "where it is said?",
     "Wägung {} gehört nicht zu den anderen ({} Abweichungen daneben) und wird nicht gerechnet: "
     "lag das Gewicht, wo es heißt?",
     "La pesata {} non si accorda con le altre ({} deviazioni fuori) e non conta: il peso stava "
     "dove è detto?"},
    {"Try a cut on the model", "Einen Abtrag am Modell erproben", "Provare un taglio sul modello"},
    {"Depth in the middle, mm", "Tiefe in der Mitte, mm", "Profondità al centro, mm"},
    {"Size of the place, mm across", "Größe der Stelle, mm im Durchmesser",
     "Grandezza del punto, mm di diametro"},
    {"Try it at the cross", "Am Kreuz erproben", "Prova alla croce"},
    {"Depth: 0.01 to 3 mm.", "Tiefe: 0,01 bis 3 mm.", "Profondità: da 0,01 a 3 mm."},
    {"Size of the place: 15 to 300 mm.", "Größe der Stelle: 15 bis 300 mm.",
     "Grandezza del punto: da 15 a 300 mm."},
    {"Trying the cut on the model", "Probt den Abtrag am Modell", "Prova il taglio sul modello"},
    {"No cut was tried: there is nothing to keep.",
     "Kein Abtrag wurde geprobt: es gibt nichts zu behalten.",
     "Nessun taglio è stato provato: non c'è nulla da conservare."},
    {"Tried on the model: {} mm off {} mm across, at {}.",
     "Am Modell geprobt: {} mm ab auf {} mm Durchmesser, bei {}.",
     "Provato sul modello: {} mm in meno su {} mm di diametro, a {}."},
    {"It takes {} g and leaves {} mm.", "Es nimmt {} g und lässt {} mm.",
     "Toglie {} g e lascia {} mm."},
    {"by taps alone", "nur aus Schlägen", "dai soli colpi"},
    {"Before it, best first", "Vorher, das Beste zuerst", "Prima, il meglio per primo"},
    {"Enough: nothing is worth its minutes before the cut.",
     "Genug: vor dem Abtrag lohnt nichts seine Minuten.",
     "Basta: prima del taglio nulla vale i suoi minuti."},
    {"Keep this forecast", "Diese Vorhersage behalten", "Conserva questa previsione"},
    {"Kept, it is held against the next session's taps.",
     "Einmal behalten, wird sie an den Schlägen der nächsten Sitzung gemessen.",
     "Conservata, sarà messa a confronto con i colpi della prossima sessione."},
    {"Click a place on the plate. It is seen from the outside.",
     "Eine Stelle auf der Platte anklicken. Gesehen wird sie von außen.",
     "Fare clic su un punto della piastra. È vista da fuori."},
    {"{}: ± {} Hz would be ± {} Hz; about {} min.", "{}: aus ± {} Hz würden ± {} Hz; etwa {} min.",
     "{}: ± {} Hz diventerebbero ± {} Hz; circa {} min."},
    {"Lay {} g at {}, tap, take it off, tap.", "{} g bei {} auflegen, klopfen, abnehmen, klopfen.",
     "Posare {} g a {}, battere, togliere, battere."},
    {"Bend it: {}, {} g.", "Biegen: {}, {} g.", "Flettere: {}, {} g."},
    {"Read the height of the outside on the centre line, {} mm from the lower end.",
     "Die Höhe der Außenseite auf der Mittellinie messen, {} mm vom unteren Ende.",
     "Misurare l'altezza dell'esterno sulla linea di mezzo, a {} mm dall'estremo inferiore."},
    {"Hang it anew and tap it again.", "Neu aufhängen und wieder klopfen.",
     "Appendere di nuovo e battere ancora."},
    {"Weigh the plate.", "Die Platte wiegen.", "Pesare la piastra."},
    {"Tap and weigh a bar of the same wood, if there is an offcut.",
     "Einen Stab vom selben Holz klopfen und wiegen, wenn es ein Reststück gibt.",
     "Battere e pesare una barra dello stesso legno, se c'è un avanzo."},
    {"Look at the end grain, and type how far the rings lean off upright (Shape).",
     "Das Hirnholz ansehen und eintippen, wie weit die Jahrringe aus der Senkrechten stehen "
     "(Form).",
     "Guardare il legno di testa e scrivere di quanto gli anelli stanno fuori dalla verticale "
     "(Forma)."},
    {"{} is off the plate.", "{} liegt neben der Platte.", "{} è fuori dalla piastra."},
    {"A depth of {} mm can't be tried: give up to {} mm.",
     "Eine Tiefe von {} mm kann nicht geprobt werden: bis {} mm angeben.",
     "Una profondità di {} mm non si può provare: indicare fino a {} mm."},
    {"A place {} mm across can't be tried: give {} to {} mm.",
     "Eine Stelle von {} mm Durchmesser kann nicht geprobt werden: {} bis {} mm angeben.",
     "Un punto di {} mm di diametro non si può provare: indicare da {} a {} mm."},
    {"That would leave {} mm: it can't be tried.", "Das ließe {} mm: es kann nicht geprobt werden.",
     "Lascerebbe {} mm: non si può provare."},
    {"Wood taken off can't be put back: this is a forecast, and its ± an interval of 95 %.",
     "Abgenommenes Holz kommt nicht zurück: das ist eine Vorhersage, ihr ± ein Bereich von 95 %.",
     "Il legno tolto non torna: questa è una previsione, e il suo ± un intervallo del 95 %."},
});

} // namespace platewright::wording
