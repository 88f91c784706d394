#pragma once
#include "wording/row.hpp"

namespace platewright::wording {

/// What is lost, damaged, copied and brought back.
inline constexpr auto k_recovery_phrases = std::to_array<Row>({
    {"{} recording of this plate's taps is missing or damaged; the figures of its tap are kept and "
     "used. platewright check names it.",
     "{} Aufnahme von Schlägen dieser Platte fehlt oder ist beschädigt; die Werte des Schlags sind "
     "aufbewahrt und werden verwendet. platewright check nennt sie.",
     "{} registrazione dei colpi di questa piastra manca o è danneggiata; le cifre del colpo sono "
     "conservate e usate. platewright check la nomina."},
    {"{} recordings of this plate's taps are missing or damaged; the figures of their taps are "
     "kept "
     "and used. platewright check names them.",
     "{} Aufnahmen von Schlägen dieser Platte fehlen oder sind beschädigt; die Werte der Schläge "
     "sind "
     "aufbewahrt und werden verwendet. platewright check nennt sie.",
     "{} registrazioni dei colpi di questa piastra mancano o sono danneggiate; le cifre dei colpi "
     "sono "
     "conservate e usate. platewright check le nomina."},
    {"A copy of the ledger's database could not be laid aside; the ledger itself is safe. Check "
     "the "
     "room on its disk.",
     "Eine Kopie der Datenbank konnte nicht beiseitegelegt werden; das Werkbuch selbst ist sicher. "
     "Den Platz auf seiner Festplatte prüfen.",
     "Non è stato possibile mettere da parte una copia della banca dati; il registro stesso è al "
     "sicuro. Controllare lo spazio sul disco."},
    {"The ledger's database is gone, but recordings lie in its folder, so no empty ledger is begun "
     "there. Run platewright check --mend, which brings back what its copies and the recordings "
     "hold; "
     "nothing was changed.",
     "Die Datenbank des Werkbuchs ist weg, aber in seinem Ordner liegen Aufnahmen; darum wird dort "
     "kein "
     "leeres Werkbuch begonnen. platewright check --mend ausführen, das zurückbringt, was Kopien "
     "und "
     "Aufnahmen enthalten; nichts wurde geändert.",
     "La banca dati del registro non c'è più, ma nella sua cartella ci sono registrazioni; perciò "
     "non vi "
     "si comincia un registro vuoto. Eseguire platewright check --mend, che riporta ciò che le "
     "copie e le "
     "registrazioni contengono; nulla è stato cambiato."},
    {"The newest session in this ledger is of {}, which is still to come. Check this computer's "
     "date "
     "before you tap: sessions are put in order by it.",
     "Die neueste Sitzung in diesem Werkbuch ist vom {}, und das liegt noch vor uns. Vor dem "
     "Klopfen das "
     "Datum dieses Rechners prüfen: danach werden die Sitzungen geordnet.",
     "La sessione più recente di questo registro è del {}, che deve ancora venire. Prima di "
     "battere "
     "controllare la data di questo computer: le sessioni si ordinano secondo essa."},
    {"The copy of {} was put back; {} taps of since then were found again from their recordings. "
     "What "
     "was there before lies in “{}”.",
     "Die Kopie vom {} wurde zurückgelegt; {} Schläge von danach wurden aus ihren Aufnahmen "
     "wiedergefunden. Was vorher da war, liegt in „{}“.",
     "La copia del {} è stata rimessa; {} colpi successivi sono stati ritrovati dalle loro "
     "registrazioni. Ciò che c'era prima si trova in «{}»."},
    {"No such copy lies in the ledger's folder, so nothing was put back.",
     "Eine solche Kopie liegt nicht im Ordner des Werkbuchs; nichts wurde zurückgelegt.",
     "Nella cartella del registro non c'è una copia simile; nulla è stato rimesso."},
    {"That copy is damaged itself, so nothing was put back. Choose another one.",
     "Diese Kopie ist selbst beschädigt; nichts wurde zurückgelegt. Eine andere wählen.",
     "Quella copia è danneggiata essa stessa; nulla è stato rimesso. Sceglierne un'altra."},
    {"Another program has the ledger open, so nothing was put back. Close it and do this again.",
     "Ein anderes Programm hat das Werkbuch offen; nichts wurde zurückgelegt. Es schließen und "
     "noch "
     "einmal.",
     "Un altro programma tiene aperto il registro; nulla è stato rimesso. Chiuderlo e rifare."},
});

} // namespace platewright::wording
