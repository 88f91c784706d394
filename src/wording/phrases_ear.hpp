#pragma once
#include "wording/row.hpp"

namespace platewright::wording {

/// The input and the room, and how the window is set.
inline constexpr auto k_ear_phrases = std::to_array<Row>({
    {"Ear", "Ohr", "Orecchio"},
    {"Microphone or input", "Mikrofon oder Eingang", "Microfono o ingresso"},
    {"No input is to be seen. Plug a microphone in, then look again; plates already tapped can be "
     "read meanwhile.",
     "Kein Eingang ist zu sehen. Ein Mikrofon einstecken, dann noch einmal nachsehen; schon "
     "angeschlagene Platten lassen sich inzwischen lesen.",
     "Non si vede alcun ingresso. Collegare un microfono, poi guardare di nuovo; intanto si possono "
     "leggere le piastre già battute."},
    {"{} channel", "{} Kanal", "{} canale"},
    {"{} channels", "{} Kanäle", "{} canali"},
    {"the system's own choice", "vom System gewählt", "scelto dal sistema"},
    {"Look again", "Nachsehen", "Guarda di nuovo"},
    {"the input's own", "die des Eingangs", "quella dell'ingresso"},
    {"sample rate", "Abtastrate", "frequenza di campionamento"},
    {"channel", "Kanal", "canale"},
    {"Level", "Pegel", "Livello"},
    {"The room is at {} dBFS, marked in the meter. A strike should stand 30 dB above it and stay "
     "below the last step.",
     "Der Raum liegt bei {} dBFS, in der Anzeige markiert. Ein Schlag soll 30 dB darüber stehen und "
     "unter der letzten Stufe bleiben.",
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
    {"Turn off automatic gain, noise suppression and echo cancelling for this input in the system's "
     "sound settings: they bend the decay that is measured here. Small phone microphones hear little "
     "below 100 Hz.",
     "Automatische Verstärkung, Rauschunterdrückung und Echounterdrückung dieses Eingangs in den "
     "Toneinstellungen des Systems ausschalten: sie verbiegen das Ausklingen, das hier gemessen "
     "wird. Kleine Telefonmikrofone hören unter 100 Hz wenig.",
     "Disattivare nelle impostazioni audio del sistema il guadagno automatico, la soppressione del "
     "rumore e dell'eco di questo ingresso: deformano lo smorzamento che qui si misura. I piccoli "
     "microfoni dei telefoni sentono poco sotto i 100 Hz."},
    {"Settings", "Einstellen", "Imposta"},
    {"The window", "Das Fenster", "La finestra"},
    {"The bench", "Die Werkbank", "Il banco"},
    {"the system's", "die des Systems", "del sistema"},
    {"language", "Sprache", "lingua"},
    {"decimal mark", "Dezimalzeichen", "segno decimale"},
    {"as in the language", "wie in der Sprache", "come nella lingua"},
    {"size of the text, as far as there is room", "Größe der Schrift, soweit Platz ist",
     "grandezza del testo, finché c'è posto"},
    {"light", "Licht", "luce"},
    {"frequency in spectra", "Frequenz in Spektren", "frequenza negli spettri"},
    {"linear", "linear", "lineare"},
    {"logarithmic", "logarithmisch", "logaritmica"},
    {"never", "nie", "mai"},
    {"go on to the next spot after so many good taps",
     "zur nächsten Stelle nach so vielen guten Schlägen",
     "passare al punto seguente dopo tanti colpi buoni"},
    {"answer each tap with a soft sound", "jeden Schlag mit einem leisen Ton beantworten",
     "rispondere a ogni colpo con un suono lieve"},
    {"The sound lies above what is listened to, and is no tap.",
     "Der Ton liegt über dem, was abgehört wird, und ist kein Schlag.",
     "Il suono sta sopra ciò che si ascolta, e non è un colpo."},
    {"note names beside Hz", "Notennamen neben Hz", "nomi delle note accanto a Hz"},
    {"reference pitch A4, Hz", "Stimmton A4, Hz", "diapason La4, Hz"},
    {"The pitch is a number from {} to {} Hz.", "Der Stimmton ist eine Zahl von {} bis {} Hz.",
     "Il diapason è un numero da {} a {} Hz."},
});

} // namespace platewright::wording
