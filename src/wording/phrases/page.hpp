#pragma once
#include "wording/row.hpp"

namespace platewright::wording {

/// The record of an instrument as a page.
inline constexpr auto k_page_phrases = std::to_array<Row>({
    {"{} session of {}, {} to {}", "{} Sitzung: {}, {} bis {}", "{} sessione di {}, dal {} al {}"},
    {"{} sessions of {}, {} to {}", "{} Sitzungen: {}, {} bis {}",
     "{} sessioni di {}, dal {} al {}"},
    {"{} to {} g", "{} auf {} g", "da {} a {} g"},
    {"{} from {} to {} Hz", "{} von {} auf {} Hz", "{} da {} a {} Hz"},
    {"A tap", "Ein Schlag", "Un colpo"},
    {"A tap, {}", "Ein Schlag, {}", "Un colpo, {}"},
    {"From the first session to the last", "Von der ersten Sitzung bis zur letzten",
     "Dalla prima sessione all'ultima"},
    {"All modes of the last session", "Alle Moden der neuesten Sitzung",
     "Tutti i modi dell'ultima sessione"},
    {"x {}, y {}: {} mm", "x {}, y {}: {} mm", "x {}, y {}: {} mm"},
    {"How each mode moved from session to session. Point at a mark to read it; it leads to its "
     "session.",
     "Wie jede Mode von Sitzung zu Sitzung wanderte. Auf ein Zeichen zeigen, um es zu lesen; es "
     "führt zu seiner Sitzung.",
     "Come ogni modo si spostò di sessione in sessione. Indicare un segno per leggerlo; porta alla "
     "sua sessione."},
    {"Thickness in mm, seen from outside. Point at a mark to read what the caliper said there.",
     "Stärke in mm, von außen gesehen. Auf ein Zeichen zeigen, um zu lesen, was der Taster dort "
     "sagte.",
     "Spessore in mm, visto da fuori. Indicare un segno per leggere che cosa disse lì lo "
     "spessimetro."},
    {"No session has been kept yet.", "Noch keine Sitzung aufbewahrt.",
     "Nessuna sessione ancora conservata."},
    {"Frequencies in Hz, each with an interval that holds it with 95 %; in brackets the change "
     "since the session before. The taps "
     "are as the microphone heard them, made equally loud. Frequencies promise no tone.",
     "Frequenzen in Hz, jede mit einem Bereich, der sie mit 95 % enthält; in Klammern die Änderung "
     "seit der Sitzung davor. Die "
     "Schläge sind, wie das Mikrofon sie hörte, gleich laut gemacht. Frequenzen versprechen keinen "
     "Klang.",
     "Frequenze in Hz, ciascuna con un intervallo che la contiene al 95 %; tra parentesi la "
     "variazione dalla sessione prima. I "
     "colpi sono come li sentì il microfono, resi ugualmente forti. Le frequenze non promettono un "
     "suono."},
    {"Written {} by Platewright {}.", "Geschrieben am {} von Platewright {}.",
     "Scritto il {} da Platewright {}."},
    {"“{}” could not be written. Check the folder and the free space; what stood there before is "
     "as it was.",
     "„{}“ konnte nicht geschrieben werden. Den Ordner und den freien Platz prüfen; was vorher da "
     "stand, ist, wie es war.",
     "Non si è potuto scrivere «{}». Controllare la cartella e lo spazio libero; ciò che c'era "
     "prima è com'era."},
    {"The record is in {}", "Der Baubericht ist in {}", "La storia dello strumento è in {}"},
});

} // namespace platewright::wording
