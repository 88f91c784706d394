#pragma once
#include "wording/row.hpp"

namespace platewright::wording {

/// What went otherwise than asked: of the bench, the input, the ledger.
inline constexpr auto k_notices_phrases = std::to_array<Row>({
    {"No window can be opened here. Start it on a desktop with OpenGL 3.2, or use a command, such "
     "as platewright listen; the ledger is untouched.",
     "Hier lässt sich kein Fenster öffnen. Auf einem Desktop mit OpenGL 3.2 starten oder einen "
     "Befehl verwenden, etwa platewright listen; das Werkbuch ist unberührt.",
     "Qui non si può aprire una finestra. Avviarlo su un desktop con OpenGL 3.2, o usare un "
     "comando come platewright listen; il registro è intatto."},
    {"The sound system did not start; check that a sound server or sound card works.",
     "Das Tonsystem ist nicht angelaufen; prüfen, ob ein Tonserver oder eine Tonkarte arbeitet.",
     "Il sistema audio non è partito; controllare che un server audio o una scheda funzioni."},
    {"There is no microphone: plug one in, or start the sound server, and try again.",
     "Es gibt kein Mikrofon: eines einstecken oder den Tonserver starten und noch einmal "
     "versuchen.",
     "Non c'è microfono: collegarne uno, o avviare il server audio, e riprovare."},
    {"The input “{}” is not there: plug it in, or choose another.",
     "Der Eingang „{}“ ist nicht da: einstecken oder einen anderen wählen.",
     "L'ingresso «{}» non c'è: collegarlo o sceglierne un altro."},
    {"With {} samples a second nothing above {} Hz can be heard, and the band looked at begins at "
     "{} Hz: choose a lower band, or record at a higher rate.",
     "Mit {} Abtastwerten je Sekunde ist über {} Hz nichts zu hören, und das betrachtete Band "
     "beginnt bei {} Hz: ein tieferes Band wählen oder mit höherer Rate aufnehmen.",
     "Con {} campioni al secondo sopra {} Hz non si sente nulla, e la banda osservata comincia a "
     "{} Hz: scegliere una banda più bassa, o registrare con più campioni."},
    {"none of the usual", "keine der üblichen", "nessuna delle solite"},
    {"The input “{}” has {} channel(s); there is no channel {}: choose another.",
     "Der Eingang „{}“ hat {} Kanäle; einen Kanal {} gibt es nicht: einen anderen wählen.",
     "L'ingresso «{}» ha {} canali; il canale {} non esiste: sceglierne un altro."},
    {"The input “{}” does not offer {} Hz; it offers {} Hz: choose one of these.",
     "Der Eingang „{}“ bietet {} Hz nicht an; er bietet {} Hz: eine davon wählen.",
     "L'ingresso «{}» non offre {} Hz; offre {} Hz: scegliere una di queste."},
    {"The input “{}” could not be opened: another program may hold it, or it was unplugged.",
     "Der Eingang „{}“ ließ sich nicht öffnen: ein anderes Programm mag ihn halten, oder er wurde "
     "ausgesteckt.",
     "Non è stato possibile aprire l'ingresso «{}»: forse lo tiene un altro programma, o è stato "
     "scollegato."},
    {"No sound comes from “{}” any more: plug it in again; listening goes on by itself.",
     "Von „{}“ kommt kein Ton mehr: wieder einstecken; das Zuhören geht von selbst weiter.",
     "Da «{}» non arriva più suono: ricollegarlo; l'ascolto riprende da solo."},
    {"The ledger can be read here, but nothing is kept: {}.",
     "Das Werkbuch lässt sich hier lesen, aber nichts wird aufbewahrt: {}.",
     "Qui il registro si può leggere, ma nulla viene conservato: {}."},
    {"it was opened for reading only", "es wurde nur zum Lesen geöffnet",
     "è stato aperto in sola lettura"},
    {"another program has it open", "ein anderes Programm hat es offen",
     "un altro programma lo tiene aperto"},
    {"its folder cannot be written to", "in seinen Ordner kann nicht geschrieben werden",
     "nella sua cartella non si può scrivere"},
    {"The ledger can only be read: {}. This was not kept.",
     "Das Werkbuch lässt sich nur lesen: {}. Dies wurde nicht aufbewahrt.",
     "Il registro si può solo leggere: {}. Questo non è stato conservato."},
    {"The ledger's database is damaged. Close the program, run platewright check, and do as it "
     "says; the recordings and earlier copies are untouched.",
     "Die Datenbank des Werkbuchs ist beschädigt. Das Programm schließen, platewright check "
     "ausführen und seinem Rat folgen; die Aufnahmen und frühere Kopien sind unberührt.",
     "La banca dati del registro è danneggiata. Chiudere il programma, eseguire platewright check "
     "e seguirne il consiglio; le registrazioni e le copie precedenti sono intatte."},
    {"Another ledger lies where this one was, so nothing was kept. Bring the disk or folder back, "
     "or start the program anew.",
     "Wo dieses Werkbuch lag, liegt ein anderes; nichts wurde aufbewahrt. Festplatte oder Ordner "
     "zurückbringen oder das Programm neu starten.",
     "Dove era questo registro ce n'è un altro; nulla è stato conservato. Riportare il disco o la "
     "cartella, o riavviare il programma."},
    {"No plate is open: make or open one before its session.",
     "Keine Platte ist offen: vor der Sitzung eine anlegen oder öffnen.",
     "Nessuna piastra è aperta: crearne o aprirne una prima della sessione."},
    {"The session shown has no taps yet: it goes on.",
     "Die gezeigte Sitzung hat noch keine Schläge: sie geht weiter.",
     "La sessione mostrata non ha ancora colpi: continua."},
    {"There is no tap to take back in this session.",
     "In dieser Sitzung gibt es keinen Schlag zurückzunehmen.",
     "In questa sessione non c'è alcun colpo da annullare."},
    {"That session is not one of the plate on the bench: open its plate first.",
     "Diese Sitzung gehört nicht zur Platte auf der Werkbank: erst deren Platte öffnen.",
     "Quella sessione non è della piastra sul banco: aprire prima la sua piastra."},
    {"No tap was taken back in this session.",
     "In dieser Sitzung wurde kein Schlag zurückgenommen.",
     "In questa sessione nessun colpo è stato annullato."},
    {"Nothing can be played: there is no loudspeaker, or it does not take this sample rate. The "
     "tap itself is safe.",
     "Nichts lässt sich abspielen: es gibt keinen Lautsprecher, oder er nimmt diese Abtastrate "
     "nicht. Der Schlag selbst ist sicher.",
     "Non si può riprodurre nulla: non c'è altoparlante, o non accetta questa frequenza. Il colpo "
     "è al sicuro."},
    {"No session is open: a mode is named in a session.",
     "Keine Sitzung ist offen: eine Mode wird in einer Sitzung benannt.",
     "Nessuna sessione è aperta: un modo prende nome in una sessione."},
    {"The disk is full, so the ledger could not take this in. Free some space and do it again; "
     "everything shown as kept before is safe.",
     "Die Festplatte ist voll, das Werkbuch konnte dies nicht übernehmen. Platz schaffen und noch "
     "einmal; alles vorher Aufbewahrte ist sicher.",
     "Il disco è pieno, il registro non ha potuto accogliere questo. Liberare spazio e rifarlo; "
     "tutto ciò che risultava conservato è al sicuro."},
    {"The ledger's folder cannot be written to, so nothing was changed. Allow writing to it, or "
     "copy the ledger to a folder of your own.",
     "In den Ordner des Werkbuchs kann nicht geschrieben werden, nichts wurde geändert. Das "
     "Schreiben erlauben oder das Werkbuch in einen eigenen Ordner kopieren.",
     "Nella cartella del registro non si può scrivere, nulla è stato cambiato. Permettere la "
     "scrittura, o copiare il registro in una cartella propria."},
    {"Another program is holding the ledger, so nothing was changed. Close it and do this again.",
     "Ein anderes Programm hält das Werkbuch fest, nichts wurde geändert. Es schließen und noch "
     "einmal.",
     "Un altro programma tiene il registro, nulla è stato cambiato. Chiuderlo e rifare."},
    {"The ledger's database is damaged or is not one of this program's. Nothing was changed; the "
     "recordings and the folder 'backups' beside it are untouched.",
     "Die Datenbank des Werkbuchs ist beschädigt oder nicht von diesem Programm. Nichts wurde "
     "geändert; die Aufnahmen und der Ordner „backups“ daneben sind unberührt.",
     "La banca dati del registro è danneggiata o non è di questo programma. Nulla è stato "
     "cambiato; le registrazioni e la cartella «backups» accanto sono intatte."},
    {"The ledger's database could not be opened. Check that the folder is there and may be read; "
     "nothing was changed.",
     "Die Datenbank des Werkbuchs ließ sich nicht öffnen. Prüfen, ob der Ordner da ist und gelesen "
     "werden darf; nichts wurde geändert.",
     "Non è stato possibile aprire la banca dati del registro. Controllare che la cartella ci sia "
     "e si possa leggere; nulla è stato cambiato."},
    {"The disk holding the ledger does not answer as it should, so this was not taken in. Check "
     "the disk or the network folder; everything shown as kept before is untouched.",
     "Die Festplatte mit dem Werkbuch antwortet nicht, wie sie soll; dies wurde nicht übernommen. "
     "Festplatte oder Netzordner prüfen; alles vorher Aufbewahrte ist unberührt.",
     "Il disco con il registro non risponde come dovrebbe; questo non è stato accolto. Controllare "
     "il disco o la cartella di rete; tutto ciò che risultava conservato è intatto."},
    {"The ledger could not do this, and nothing was changed. The log says why.",
     "Das Werkbuch konnte dies nicht tun, nichts wurde geändert. Das Protokoll sagt, warum.",
     "Il registro non ha potuto farlo, e nulla è stato cambiato. Il giornale dice perché."},
    {"The ledger's folder is no longer where it was, so this was not kept. Bring the disk or "
     "folder back and do it again; everything shown as kept before lies there.",
     "Der Ordner des Werkbuchs ist nicht mehr, wo er war; dies wurde nicht aufbewahrt. Festplatte "
     "oder Ordner zurückbringen und noch einmal; alles vorher Aufbewahrte liegt dort.",
     "La cartella del registro non è più dov'era, questo non è stato conservato. Riportare il "
     "disco o la cartella e rifare; tutto ciò che risultava conservato è lì."},
    {"A file of the ledger could not be written, so this was not kept. Check the disk; everything "
     "shown as kept before is safe.",
     "Eine Datei des Werkbuchs ließ sich nicht schreiben, dies wurde nicht aufbewahrt. Die "
     "Festplatte prüfen; alles vorher Aufbewahrte ist sicher.",
     "Non è stato possibile scrivere un file del registro, questo non è stato conservato. "
     "Controllare il disco; tutto ciò che risultava conservato è al sicuro."},
    {"The disk is full, so this was not kept. Free some space and do it again; everything shown as "
     "kept before is safe.",
     "Die Festplatte ist voll, dies wurde nicht aufbewahrt. Platz schaffen und noch einmal; alles "
     "vorher Aufbewahrte ist sicher.",
     "Il disco è pieno, questo non è stato conservato. Liberare spazio e rifare; tutto ciò che "
     "risultava conservato è al sicuro."},
    {"The ledger's folder cannot be written to, so this was not kept. Allow writing to it, or copy "
     "the ledger to a folder of your own.",
     "In den Ordner des Werkbuchs kann nicht geschrieben werden, dies wurde nicht aufbewahrt. Das "
     "Schreiben erlauben oder das Werkbuch in einen eigenen Ordner kopieren.",
     "Nella cartella del registro non si può scrivere, questo non è stato conservato. Permettere "
     "la scrittura, o copiare il registro in una cartella propria."},
    {"The ledger holds nothing of that number any more. Nothing was changed.",
     "Unter dieser Nummer steht nichts mehr im Werkbuch. Nichts wurde geändert.",
     "Nel registro non c'è più nulla con quel numero. Non è stato cambiato nulla."},
    {"The session of {} is at the stage \"{}\", which this part ({}) never has. Nothing was "
     "changed.",
     "Die Sitzung vom {} hat den Stand „{}“, den dieser Teil ({}) nie hat. Nichts wurde geändert.",
     "La sessione del {} è allo stadio «{}», che questa parte ({}) non ha mai. Non è stato "
     "cambiato nulla."},
    {"A plate's session can't go to a closed body, nor a body's to a plate. Nothing was changed.",
     "Die Sitzung einer Platte kann nicht zu einem geschlossenen Korpus und die eines Korpus nicht "
     "zu einer Platte. Nichts wurde geändert.",
     "La sessione di una piastra non può andare a una cassa chiusa, né quella di una cassa a una "
     "piastra. Non è stato cambiato nulla."},
    {"That day is still to come: give the day it was. Nothing was changed.",
     "Dieser Tag kommt erst noch: den Tag angeben, an dem es war. Nichts wurde geändert.",
     "Quel giorno deve ancora venire: dare il giorno in cui fu. Non è stato cambiato nulla."},
    {"A plate is struck at its own places, a closed body at the bridge's. Nothing was changed.",
     "Eine Platte wird an ihren eigenen Stellen angeschlagen, ein geschlossener Korpus am Steg. "
     "Nichts wurde geändert.",
     "Una piastra si batte nei suoi punti, una cassa chiusa al ponticello. Non è stato cambiato "
     "nulla."},
    {"No bundle was taken in since the last one was undone: there is nothing to undo.",
     "Seit dem letzten Rückgängigmachen wurde kein Bündel übernommen: nichts ist rückgängig zu "
     "machen.",
     "Dall'ultimo annullamento non è stato accolto alcun pacchetto: non c'è nulla da annullare."},
});

} // namespace platewright::wording
