#pragma once
#include "wording/row.hpp"

namespace platewright::wording {

/// What became of a ledger that other programs, its disk or another hand laid theirs on; what is
/// lost, damaged, copied and brought back.
inline constexpr auto k_ledger_phrases = std::to_array<Row>({
    {"its disk is full", "seine Festplatte ist voll", "il suo disco è pieno"},
    {"“{}” in its folder is a link to another place, and nothing is written through links",
     "„{}“ in seinem Ordner ist ein Verweis an einen anderen Ort, und durch Verweise wird nichts "
     "geschrieben",
     "«{}» nella sua cartella è un collegamento a un altro luogo, e attraverso i collegamenti non "
     "si scrive nulla"},
    {"its tables are not as this program makes them (platewright check says where)",
     "seine Tabellen sind nicht so, wie dieses Programm sie macht (platewright check sagt, wo)",
     "le sue tabelle non sono come le fa questo programma (platewright check dice dove)"},
    {"“{}” in the ledger is a link to another place, so nothing was written there. Put a folder in "
     "its place.",
     "„{}“ im Werkbuch ist ein Verweis an einen anderen Ort, dorthin wurde nichts geschrieben. "
     "Einen Ordner an seine Stelle setzen.",
     "«{}» nel registro è un collegamento a un altro luogo, lì non è stato scritto nulla. Mettere "
     "una cartella al suo posto."},
    {"This folder's disk knows no locks, so the program can't tell whether another one writes to "
     "the ledger too. Let only one program have it open.",
     "Die Festplatte dieses Ordners kennt keine Sperren, das Programm kann also nicht sehen, ob "
     "ein anderes auch ins Werkbuch schreibt. Es nur in einem Programm offen haben.",
     "Il disco di questa cartella non conosce blocchi, perciò il programma non può sapere se anche "
     "un altro scrive nel registro. Tenerlo aperto in un solo programma."},
    {"A file of the ledger could not be read; nothing was changed.",
     "Eine Datei des Werkbuchs ließ sich nicht lesen; nichts wurde geändert.",
     "Non è stato possibile leggere un file del registro; nulla è stato cambiato."},
    {"The ledger's database holds something that this program never put there, and that can't be "
     "read in a sensible time. Nothing was changed; platewright check says what it is.",
     "Die Datenbank des Werkbuchs enthält etwas, das dieses Programm nie hineingelegt hat und das "
     "sich nicht in vernünftiger Zeit lesen lässt. Nichts wurde geändert; platewright check sagt, "
     "was es ist.",
     "La banca dati del registro contiene qualcosa che questo programma non vi ha mai messo e che "
     "non si può leggere in un tempo ragionevole. Nulla è stato cambiato; platewright check dice "
     "che cos'è."},
    {"There was not enough memory for this, and nothing was changed. Close other programs and do "
     "it again.",
     "Dafür reichte der Speicher nicht, nichts wurde geändert. Andere Programme schließen und noch "
     "einmal.",
     "La memoria non è bastata, e nulla è stato cambiato. Chiudere altri programmi e rifare."},
    {"The disk holding the ledger could not be read just now, so nothing was changed. Check the "
     "disk, its plug or the network, and do this again before going back to any older copy.",
     "Die Festplatte mit dem Werkbuch ließ sich gerade nicht lesen, nichts wurde geändert. "
     "Festplatte, Stecker oder Netz prüfen und noch einmal, bevor eine ältere Kopie genommen wird.",
     "In questo momento il disco con il registro non si è potuto leggere, nulla è stato cambiato. "
     "Controllare il disco, la spina o la rete, e rifare prima di tornare a una copia più "
     "vecchia."},
    {"This text is longer than a million letters, so it was not kept. Shorten it.",
     "Dieser Text ist länger als eine Million Buchstaben, er wurde nicht aufbewahrt. Ihn kürzen.",
     "Questo testo supera il milione di lettere, non è stato conservato. Accorciarlo."},
    {"This text holds letters that can't be shown (control characters, or bytes that are no "
     "UTF-8), so it was not kept. Type it anew.",
     "Dieser Text enthält Zeichen, die sich nicht zeigen lassen (Steuerzeichen oder Bytes, die "
     "kein UTF-8 sind); er wurde nicht aufbewahrt. Ihn neu eintippen.",
     "Questo testo contiene caratteri che non si possono mostrare (di controllo, o byte che non "
     "sono UTF-8), non è stato conservato. Riscriverlo."},
    {"The journal that lay beside the ledger's database belonged to another copy of it and was put "
     "aside as {}. Run platewright check --mend: it brings taps back from their recordings.",
     "Das Journal neben der Datenbank des Werkbuchs gehörte zu einer anderen Kopie und wurde als "
     "{} beiseitegelegt. platewright check --mend ausführen: es holt Schläge aus ihren Aufnahmen "
     "zurück.",
     "Il giornale accanto alla banca dati del registro apparteneva a un'altra copia ed è stato "
     "messo da parte come {}. Eseguire platewright check --mend: recupera i colpi dalle loro "
     "registrazioni."},
    {"The ledger's database was damaged or cut short by another program, so this was not kept. Put "
     "the newest copy from the ledger's folder “backups” in its place and go on: what was kept "
     "since this program began is then written into it again.",
     "Die Datenbank des Werkbuchs wurde von einem anderen Programm beschädigt oder abgeschnitten, "
     "dies wurde nicht aufbewahrt. Die neueste Kopie aus dem Ordner „backups“ des Werkbuchs an "
     "ihre Stelle setzen und weitermachen: was seit dem Start dieses Programms aufbewahrt wurde, "
     "wird dann noch einmal hineingeschrieben.",
     "Un altro programma ha danneggiato o troncato la banca dati del registro, questo non è stato "
     "conservato. Mettere al suo posto la copia più recente dalla cartella «backups» del registro "
     "e continuare: quanto è stato conservato dall'avvio di questo programma vi viene allora "
     "riscritto."},
    {"A copy of this ledger with other work in it was put in its place while it was open, so this "
     "was not kept. Close the program; what was open before lies in {}.",
     "Während das Werkbuch offen war, wurde eine Kopie mit anderer Arbeit an seine Stelle gesetzt; "
     "dies wurde nicht aufbewahrt. Das Programm schließen; was vorher offen war, liegt in {}.",
     "Mentre il registro era aperto, al suo posto è stata messa una copia con altro lavoro; questo "
     "non è stato conservato. Chiudere il programma; quanto era aperto prima si trova in {}."},
    {"An older copy of this ledger was put in its place while it was open, and what was kept since "
     "can't be written into it, so this was not kept. Close the program; what was open before lies "
     "in {}.",
     "Während das Werkbuch offen war, wurde eine ältere Kopie an seine Stelle gesetzt, und was "
     "seither aufbewahrt wurde, lässt sich nicht hineinschreiben; dies wurde nicht aufbewahrt. Das "
     "Programm schließen; was vorher offen war, liegt in {}.",
     "Mentre il registro era aperto, al suo posto è stata messa una copia più vecchia, e quanto "
     "conservato da allora non vi si può scrivere; questo non è stato conservato. Chiudere il "
     "programma; quanto era aperto prima si trova in {}."},
    {"An older copy of the ledger was put in its place while it was open. What was kept since this "
     "program began is written into it again; the rest of what it lacks lies in {}.",
     "Während das Werkbuch offen war, wurde eine ältere Kopie an seine Stelle gesetzt. Was seit "
     "dem Start dieses Programms aufbewahrt wurde, ist wieder hineingeschrieben; was ihr sonst "
     "fehlt, liegt in {}.",
     "Mentre il registro era aperto, al suo posto è stata messa una copia più vecchia. Quanto "
     "conservato dall'avvio di questo programma vi è stato riscritto; il resto che le manca si "
     "trova in {}."},
    {"Something went wrong that should not have; what was kept is safe. The log says what: {}",
     "Etwas ging schief, das nicht hätte schiefgehen dürfen; was aufbewahrt wurde, ist sicher. Das "
     "Protokoll sagt, was: {}",
     "Qualcosa è andato storto che non doveva; quanto conservato è al sicuro. Il giornale dice che "
     "cosa: {}"},
    {"The ledger's tables are not as this program makes them, so this could not be done; nothing "
     "was changed. platewright check says where.",
     "Die Tabellen des Werkbuchs sind nicht so, wie dieses Programm sie macht; dies ging nicht, "
     "nichts wurde geändert. platewright check sagt, wo.",
     "Le tabelle del registro non sono come le fa questo programma; questo non si è potuto fare, "
     "nulla è stato cambiato. platewright check dice dove."},
    {"A kept tap says that it begins outside its recording, so it was not used; its figures are "
     "still kept. platewright check lists such taps.",
     "Ein aufbewahrter Schlag soll außerhalb seiner Aufnahme beginnen; er wurde nicht verwendet, "
     "seine Zahlen sind weiter aufbewahrt. platewright check führt solche Schläge auf.",
     "Un colpo conservato risulta iniziare fuori dalla sua registrazione, non è stato usato; le "
     "sue cifre restano conservate. platewright check elenca tali colpi."},
    {"“{}” could not be looked at, so nothing was changed. Check that it is there and may be read.",
     "„{}“ ließ sich nicht ansehen, nichts wurde geändert. Prüfen, ob es da ist und gelesen werden "
     "darf.",
     "Non è stato possibile guardare «{}», nulla è stato cambiato. Controllare che ci sia e si "
     "possa leggere."},
    {"{} recording of this plate's taps is missing or damaged; the figures of its tap are kept and "
     "used. platewright check names it.",
     "{} Aufnahme von Schlägen dieser Platte fehlt oder ist beschädigt; die Werte des Schlags sind "
     "aufbewahrt und werden verwendet. platewright check nennt sie.",
     "{} registrazione dei colpi di questa piastra manca o è danneggiata; le cifre del colpo sono "
     "conservate e usate. platewright check la nomina."},
    {"{} recordings of this plate's taps are missing or damaged; the figures of their taps are "
     "kept and used. platewright check names them.",
     "{} Aufnahmen von Schlägen dieser Platte fehlen oder sind beschädigt; die Werte der Schläge "
     "sind aufbewahrt und werden verwendet. platewright check nennt sie.",
     "{} registrazioni dei colpi di questa piastra mancano o sono danneggiate; le cifre dei colpi "
     "sono conservate e usate. platewright check le nomina."},
    {"A copy of the ledger's database could not be laid aside; the ledger itself is safe. Check "
     "the room on its disk.",
     "Eine Kopie der Datenbank konnte nicht beiseitegelegt werden; das Werkbuch selbst ist sicher. "
     "Den Platz auf seiner Festplatte prüfen.",
     "Non è stato possibile mettere da parte una copia della banca dati; il registro stesso è al "
     "sicuro. Controllare lo spazio sul disco."},
    {"The ledger's database is gone, but recordings lie in its folder, so no empty ledger is begun "
     "there. Run platewright check --mend, which brings back what its copies and the recordings "
     "hold; nothing was changed.",
     "Die Datenbank des Werkbuchs ist weg, aber in seinem Ordner liegen Aufnahmen; darum wird dort "
     "kein leeres Werkbuch begonnen. platewright check --mend ausführen, das zurückbringt, was "
     "Kopien und Aufnahmen enthalten; nichts wurde geändert.",
     "La banca dati del registro non c'è più, ma nella sua cartella ci sono registrazioni; perciò "
     "non vi si comincia un registro vuoto. Eseguire platewright check --mend, che riporta ciò che "
     "le copie e le registrazioni contengono; nulla è stato cambiato."},
    {"The newest session in this ledger is of {}, which is still to come. Check this computer's "
     "date before you tap: sessions are put in order by it.",
     "Die neueste Sitzung in diesem Werkbuch ist vom {}, und das liegt noch vor uns. Vor dem "
     "Klopfen das Datum dieses Rechners prüfen: danach werden die Sitzungen geordnet.",
     "La sessione più recente di questo registro è del {}, che deve ancora venire. Prima di "
     "battere controllare la data di questo computer: le sessioni si ordinano secondo essa."},
    {"The copy of {} was put back; {} taps of since then were found again from their recordings. "
     "What was there before lies in “{}”.",
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
     "noch einmal.",
     "Un altro programma tiene aperto il registro; nulla è stato rimesso. Chiuderlo e rifare."},
});

} // namespace platewright::wording
