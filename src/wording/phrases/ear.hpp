#pragma once
#include "wording/row.hpp"

namespace platewright::wording {

/// The input and the room, what a voice says at the bench, and how the window is set.
inline constexpr auto k_ear_phrases = std::to_array<Row>({
    {"Microphone", "Mikrofon", "Microfono"},
    {"Microphone or input", "Mikrofon oder Eingang", "Microfono o ingresso"},
    {"No input is to be seen. Plug a microphone in, then look again; plates already tapped can be "
     "read meanwhile.",
     "Kein Eingang ist zu sehen. Ein Mikrofon einstecken, dann noch einmal nachsehen; schon "
     "angeschlagene Platten lassen sich inzwischen lesen.",
     "Non si vede alcun ingresso. Collegare un microfono, poi guardare di nuovo; intanto si "
     "possono leggere le piastre già battute."},
    {"{} channel", "{} Kanal", "{} canale"},
    {"{} channels", "{} Kanäle", "{} canali"},
    {"the system's own choice", "vom System gewählt", "scelto dal sistema"},
    {"Look again", "Nachsehen", "Guarda di nuovo"},
    {"the input's own", "die des Eingangs", "quella dell'ingresso"},
    {"sample rate", "Abtastrate", "frequenza di campionamento"},
    {"channel", "Kanal", "canale"},
    {"channel of a hammer's force", "Kanal der Kraft eines Hammers",
     "canale della forza di un martelletto"},
    {"none tells its force", "keiner meldet seine Kraft", "nessuno dice la sua forza"},
    {"newtons at its full scale (empty: not known)", "Newton bei Vollausschlag (leer: unbekannt)",
     "newton a fondo scala (vuoto: ignoti)"},
    {"The force", "Die Kraft", "La forza"},
    {", force {}", ", Kraft {}", ", forza {}"},
    {"with its force", "mit seiner Kraft", "con la sua forza"},
    {"no force came with it: look at the hammer's channel (F5)",
     "ohne Kraft: nach dem Kanal des Hammers sehen (F5)",
     "senza forza: guardare il canale del martelletto (F5)"},
    {"its force was clipped: strike softer", "Kraft übersteuert: weicher schlagen",
     "forza saturata: battere più piano"},
    {"the hammer pushed twice: its force does not count",
     "der Hammer stieß zweimal: seine Kraft zählt nicht",
     "il martelletto ha spinto due volte: la sua forza non conta"},
    {"Response to the force", "Antwort auf die Kraft", "Risposta alla forza"},
    {"Response to the force, {}", "Antwort auf die Kraft, {}", "Risposta alla forza, {}"},
    {"{} strike counts, driven to {} Hz", "{} Schlag zählt, angetrieben bis {} Hz",
     "{} colpo conta, eccitato fino a {} Hz"},
    {"{} strikes count, driven to {} Hz", "{} Schläge zählen, angetrieben bis {} Hz",
     "{} colpi contano, eccitati fino a {} Hz"},
    {"Without force {}, clipped {}, pushed twice {}: these do not count.",
     "Ohne Kraft {}, übersteuert {}, zweimal gestoßen {}: diese zählen nicht.",
     "Senza forza {}, saturati {}, spinti due volte {}: questi non contano."},
    {"|H1| in dB: full scale of the sound for one newton.",
     "|H1| in dB: Vollausschlag des Tons für ein Newton.",
     "|H1| in dB: fondo scala del suono per un newton."},
    {"|H1| in dB: full scale of the sound for full scale of the force, whose newtons are not known "
     "(F5).",
     "|H1| in dB: Vollausschlag des Tons für Vollausschlag der Kraft, deren Newton unbekannt sind "
     "(F5).",
     "|H1| in dB: fondo scala del suono per fondo scala della forza, i cui newton sono ignoti "
     "(F5)."},
    {"coherence {}", "Kohärenz {}", "coerenza {}"},
    {"Level", "Pegel", "Livello"},
    {"The room is at {} dBFS, marked in the meter. A strike should stand 30 dB above it and stay "
     "below the last step.",
     "Der Raum liegt bei {} dBFS, in der Anzeige markiert. Ein Schlag soll 30 dB darüber stehen "
     "und unter der letzten Stufe bleiben.",
     "L'ambiente è a {} dBFS, segnato nell'indicatore. Un colpo deve stare 30 dB sopra e sotto "
     "l'ultimo gradino."},
    {"No sound was lost since listening began.", "Seit Beginn des Zuhörens ging kein Ton verloren.",
     "Dall'inizio dell'ascolto nessun suono è andato perduto."},
    {"Sound was lost {} time since listening began: close other programs, or choose a lower rate.",
     "Seit Beginn ging {} Mal Ton verloren: andere Programme schließen oder eine kleinere Rate "
     "wählen.",
     "Dall'inizio il suono è andato perduto {} volta: chiudere altri programmi o scegliere una "
     "frequenza più bassa."},
    {"Sound was lost {} times since listening began: close other programs, or choose a lower rate.",
     "Seit Beginn ging {} Mal Ton verloren: andere Programme schließen oder eine kleinere Rate "
     "wählen.",
     "Dall'inizio il suono è andato perduto {} volte: chiudere altri programmi o scegliere una "
     "frequenza più bassa."},
    {"Turn off automatic gain, noise suppression and echo cancelling for this input in the "
     "system's sound settings: they bend the decay that is measured here. Small phone microphones "
     "hear little below 100 Hz.",
     "Automatische Verstärkung, Rauschunterdrückung und Echounterdrückung dieses Eingangs in den "
     "Toneinstellungen des Systems ausschalten: sie verbiegen das Ausklingen, das hier gemessen "
     "wird. Kleine Telefonmikrofone hören unter 100 Hz wenig.",
     "Disattivare nelle impostazioni audio del sistema il guadagno automatico, la soppressione del "
     "rumore e dell'eco di questo ingresso: deformano lo smorzamento che qui si misura. I piccoli "
     "microfoni dei telefoni sentono poco sotto i 100 Hz."},
    {"The input turns itself down after a strike: switch automatic gain, noise gate and noise "
     "suppression off. Its figures are less sure, Q above all.",
     "Der Eingang regelt sich nach einem Schlag herunter: automatische Verstärkung, Noise-Gate und "
     "Rauschunterdrückung ausschalten. Seine Werte sind unsicherer, vor allem Q.",
     "L'ingresso si abbassa da sé dopo un colpo: disattivare guadagno automatico, noise gate e "
     "soppressione del rumore. I suoi valori sono meno sicuri, soprattutto Q."},
    {"The input presses loud strikes flat before they are full scale: turn the preamplifier down "
     "or move away. Only strong partials of these taps are taken, and their figures are less sure.",
     "Der Eingang drückt laute Schläge flach, ehe sie den Vollausschlag erreichen: den "
     "Vorverstärker zurückdrehen oder weiter weg gehen. Von diesen Schlägen zählen nur starke "
     "Teiltöne, und ihre Werte sind unsicherer.",
     "L'ingresso schiaccia i colpi forti prima del fondo scala: abbassare il preamplificatore o "
     "allontanarsi. Di questi colpi si prendono solo i parziali forti, e i loro valori sono meno "
     "sicuri."},
    {"The room answers: {} s to -60 dB, {} dB below the direct sound. A frequency is good to {} "
     "cents here (350 Hz, Q 60); with the microphone at half the distance, to half of that.",
     "Der Raum antwortet: {} s bis -60 dB, {} dB unter dem Direktschall. Eine Frequenz stimmt hier "
     "auf {} Cent (350 Hz, Q 60); mit dem Mikrofon auf halbem Abstand auf die Hälfte.",
     "L'ambiente risponde: {} s fino a -60 dB, {} dB sotto il suono diretto. Una frequenza vale "
     "qui entro {} cent (350 Hz, Q 60); con il microfono a metà distanza, entro la metà."},
    {"taps are looked for from", "Schläge werden gesucht ab", "i colpi si cercano da"},
    {"up to", "bis", "fino a"},
    {"as the plate asks ({} Hz)", "wie die Platte es verlangt ({} Hz)",
     "come chiede la piastra ({} Hz)"},
    {"What sounds lower or higher is not heard: a cello's and a double bass's mode 1 lies below 40 "
     "Hz.",
     "Was tiefer oder höher klingt, wird nicht gehört: Mode 1 von Cello und Kontrabass liegt unter "
     "40 Hz.",
     "Ciò che suona più basso o più alto non si sente: il modo 1 di violoncello e contrabbasso sta "
     "sotto 40 Hz."},
    {"Settings", "Optionen", "Impostazioni"},
    {"The window", "Das Fenster", "La finestra"},
    {"The bench", "Die Werkbank", "Il banco"},
    {"the system's", "die des Systems", "del sistema"},
    {"language", "Sprache", "lingua"},
    {"decimal mark", "Dezimalzeichen", "segno decimale"},
    {"as in the language", "wie in der Sprache", "come nella lingua"},
    {"size of the text", "Größe der Schrift", "dimensione del testo"},
    {"light", "Licht", "luce"},
    {"frequency in spectra", "Frequenz in Spektren", "frequenza negli spettri"},
    {"linear", "linear", "lineare"},
    {"logarithmic", "logarithmisch", "logaritmica"},
    {"never", "nie", "mai"},
    {"go on to the next spot after so many good taps",
     "zur nächsten Stelle nach so vielen guten Schlägen",
     "colpi buoni prima di passare al punto seguente"},
    {"answer each tap with a soft sound", "jeden Schlag mit einem leisen Ton beantworten",
     "rispondere a ogni colpo con un suono lieve"},
    {"The sound lies above what is listened to, and is no tap.",
     "Der Ton liegt höher als alles, was abgehört wird: er zählt nicht als Schlag.",
     "Il suono è più acuto di ciò che si ascolta: non vale come colpo."},
    {"note names beside Hz", "Notennamen neben Hz", "nomi delle note accanto a Hz"},
    {"reference pitch A4, Hz", "Stimmton A4, Hz", "diapason La4, Hz"},
    {"The pitch is a number from {} to {} Hz.", "Der Stimmton ist eine Zahl von {} bis {} Hz.",
     "Il diapason è un numero da {} a {} Hz."},
    {"A microphone", "Ein Mikrofon", "Un microfono"},
    {"The room", "Der Raum", "L'ambiente"},
    {"A tap for practice", "Ein Schlag zum Üben", "Un colpo di prova"},
    {"The first plate", "Die erste Platte", "La prima piastra"},
    {"Choose another", "Ein anderes wählen", "Scegline un altro"},
    {"A plain measuring or studio microphone, a hand's breadth to half a metre from the plate. "
     "Speak: the meter has to move.",
     "Ein schlichtes Mess- oder Studiomikrofon, eine Handbreit bis einen halben Meter von der "
     "Platte. Sprechen: die Anzeige muss sich bewegen.",
     "Un semplice microfono da misura o da studio, da un palmo a mezzo metro dalla piastra. "
     "Parlare: l'indicatore deve muoversi."},
    {"Listen to the room", "In den Raum hören", "Ascolta l'ambiente"},
    {"Three seconds of quiet, please.", "Drei Sekunden Ruhe, bitte.",
     "Tre secondi di silenzio, per favore."},
    {"How loud is it, does the mains hum, does the microphone reach down to 60 Hz? Keep quiet for "
     "three seconds.",
     "Wie laut ist es, brummt das Netz, reicht das Mikrofon bis 60 Hz hinunter? Drei Sekunden "
     "still sein.",
     "Quanto rumore c'è, ronza la rete, il microfono arriva fino a 60 Hz? Restare in silenzio tre "
     "secondi."},
    {"Noise {} dBFS from 40 to 2500 Hz.", "Rauschen {} dBFS von 40 bis 2500 Hz.",
     "Rumore {} dBFS da 40 a 2500 Hz."},
    {"The mains hums at {} Hz, {} dB above what lies beside it: look for a charger or a cable near "
     "the microphone. No mode is made of it.",
     "Das Netz brummt bei {} Hz, {} dB über seiner Umgebung: nach einem Ladegerät oder Kabel nahe "
     "dem Mikrofon sehen. Eine Mode wird daraus nicht.",
     "La rete ronza a {} Hz, {} dB sopra ciò che le sta accanto: cercare un caricatore o un cavo "
     "vicino al microfono. Non ne nasce alcun modo."},
    {"No hum of the mains stands out.", "Kein Netzbrummen sticht hervor.",
     "Nessun ronzio di rete si distingue."},
    {"The microphone seems to reach down to 60 Hz.",
     "Das Mikrofon scheint bis 60 Hz hinunter zu reichen.",
     "Il microfono sembra arrivare fino a 60 Hz."},
    {"Below 60 Hz it hears {} dB less than about 300 Hz: deep modes may be missed; another "
     "microphone would help.",
     "Um 60 Hz hört es {} dB weniger als um 300 Hz: tiefe Moden mögen fehlen; ein anderes Mikrofon "
     "würde helfen.",
     "Intorno a 60 Hz sente {} dB meno che intorno a 300 Hz: modi gravi possono mancare; un altro "
     "microfono aiuterebbe."},
    {"Hang up any plate or thin board and tap it with a knuckle: the answer shows here. It is not "
     "kept.",
     "Irgendeine Platte oder ein dünnes Brett aufhängen und mit dem Knöchel anschlagen: die "
     "Antwort steht hier. Aufbewahrt wird sie nicht.",
     "Appendere una piastra qualsiasi o una tavoletta e battere con la nocca: la risposta appare "
     "qui. Non viene conservata."},
    {"Heard: {} Hz.", "Gehört: {} Hz.", "Udito: {} Hz."},
    {"Or look at a workshop that never was: the demo workshop is invented, has a folder of its "
     "own, and leaves your ledger alone.",
     "Oder eine Werkstatt ansehen, die es nie gab: die Vorführwerkstatt ist erfunden, hat ihren "
     "eigenen Ordner und lässt das eigene Werkbuch in Ruhe.",
     "O guardare una bottega mai esistita: quella dimostrativa è inventata, ha una cartella "
     "propria e non tocca il registro di lavoro."},
    {"Open the demo workshop", "Vorführwerkstatt öffnen", "Apri la bottega dimostrativa"},
    {"The demo workshop (invented) is being entered into {}; its window opens when it is done, in "
     "half a minute.",
     "Die Vorführwerkstatt (erfunden) wird in {} eingetragen; ihr Fenster öffnet sich danach, in "
     "einer halben Minute.",
     "La bottega dimostrativa (inventata) si sta registrando in {}; la sua finestra si apre poi, "
     "tra mezzo minuto."},
    {"The demo workshop (invented) opens in a window of its own, from {}.",
     "Die Vorführwerkstatt (erfunden) öffnet sich in einem eigenen Fenster, aus {}.",
     "La bottega dimostrativa (inventata) si apre in una finestra propria, da {}."},
    {"The demo workshop's recordings are not beside this program: sh third_party/setup demo in the "
     "sources opens it.",
     "Die Aufnahmen der Vorführwerkstatt liegen nicht bei diesem Programm: sh third_party/setup "
     "demo in den Quellen öffnet sie.",
     "Le registrazioni della bottega dimostrativa non sono accanto a questo programma: sh "
     "third_party/setup demo nei sorgenti la apre."},
    {"The demo workshop could not be started: {}.",
     "Die Vorführwerkstatt ließ sich nicht starten: {}.",
     "La bottega dimostrativa non si è potuta avviare: {}."},
    {"Copy figures", "Zahlen kopieren", "Copia i valori"},
    {"Copied: a table, to be pasted into a spreadsheet.",
     "Kopiert: eine Tabelle zum Einfügen in ein Rechenblatt.",
     "Copiati: una tabella da incollare in un foglio di calcolo."},
    {"{}: {}, {} to go.", "{}: {}, noch {}.", "{}: {}, ancora {}."},
    {"{}: {}, {} below its goal.", "{}: {}, {} unter dem Ziel.", "{}: {}, {} sotto la meta."},
    {"{}: {}, {} below the reference.", "{}: {}, {} unter dem Vorbild.",
     "{}: {}, {} sotto il riferimento."},
    {"{}: {}, at the reference.", "{}: {}, beim Vorbild.", "{}: {}, al riferimento."},
    {"{}: {}, at its goal.", "{}: {}, am Ziel.", "{}: {}, alla meta."},
    {"B1 minus", "B1 minus", "B1 meno"},
    {"B1 plus", "B1 plus", "B1 più"},
    {"From now on the figures are said aloud when a session has enough taps; G says them at any "
     "time, and Shift with G ends it.",
     "Von nun an werden die Werte laut gesagt, wenn eine Sitzung Schläge genug hat; G sagt sie "
     "jederzeit, Umschalt mit G beendet es.",
     "D'ora in poi le cifre sono dette ad alta voce quando una sessione ha abbastanza colpi; G le "
     "dice in ogni momento, Maiusc con G vi pone fine."},
    {"The figures are no longer said by themselves; G still says them.",
     "Die Werte werden nicht mehr von selbst gesagt; G sagt sie noch.",
     "Le cifre non sono più dette da sole; G le dice ancora."},
    {"No session is on the bench.", "Keine Sitzung liegt auf der Werkbank.",
     "Nessuna sessione è sul banco."},
    {"Said aloud", "Laut gesagt", "Ad alta voce"},
    {"say the figures when a session has enough taps",
     "die Werte sagen, wenn eine Sitzung Schläge genug hat",
     "dire le cifre quando una sessione ha abbastanza colpi"},
    {"the window's", "die des Fensters", "quella della finestra"},
    {"language of the voice", "Sprache der Stimme", "lingua della voce"},
    {"how fast it speaks", "Sprechtempo", "velocità della voce"},
    {"slowly", "langsam", "lenta"},
    {"as it is set up", "wie eingerichtet", "come impostata"},
    {"fast", "schnell", "veloce"},
    {"Say it once", "Einmal sagen", "Dillo una volta"},
    {"G says the figures and the decision at any time; Shift with G switches this on and off. "
     "While the voice speaks nothing is taken for a tap.",
     "G sagt Werte und Entscheidung jederzeit; Umschalt mit G schaltet dies ein und aus. Während "
     "die Stimme spricht, gilt nichts als Schlag.",
     "G dice cifre e decisione in ogni momento; Maiusc con G attiva e disattiva questo. Mentre la "
     "voce parla nulla vale come colpo."},
    {"Nothing can be said aloud: Speech Dispatcher does not answer. Install speech-dispatcher and "
     "espeak-ng.",
     "Nichts lässt sich laut sagen: Speech Dispatcher antwortet nicht. speech-dispatcher und "
     "espeak-ng installieren.",
     "Nulla può essere detto ad alta voce: Speech Dispatcher non risponde. Installare "
     "speech-dispatcher ed espeak-ng."},
});

} // namespace platewright::wording
