#pragma once
#include "wording/row.hpp"

namespace platewright::wording {

/// What a voice says at the bench, and how that is set.
inline constexpr auto k_speech_phrases = std::to_array<Row>({
    {"{}: {}, {} to go.", "{}: {}, noch {}.", "{}: {}, ancora {}."},
    {"{}: {}, {} below its goal.", "{}: {}, {} unter dem Ziel.", "{}: {}, {} sotto la meta."},
    {"{}: {}, at its goal.", "{}: {}, am Ziel.", "{}: {}, alla meta."},
    {"B1 minus", "B1 minus", "B1 meno"},
    {"B1 plus", "B1 plus", "B1 più"},
    {"From now on the figures are said aloud when a session has enough taps; G says them at any "
     "time, and Shift with G ends it.",
     "Von nun an werden die Werte laut gesagt, wenn eine Sitzung Schläge genug hat; G sagt sie "
     "jederzeit, Umschalt mit G beendet es.",
     "D'ora in poi le cifre sono dette ad alta voce quando una sessione ha abbastanza colpi; G le "
     "dice in ogni momento, Maiusc con G "
     "vi pone fine."},
    {"The figures are no longer said by themselves; G still says them.",
     "Die Werte werden nicht mehr von selbst gesagt; G sagt sie noch.",
     "Le cifre non sono più dette da sole; G le dice ancora."},
    {"No session is on the bench.", "Keine Sitzung liegt auf der Werkbank.",
     "Nessuna sessione è sul banco."},
    {"Said aloud", "Laut gesagt", "A voce"},
    {"say the figures when a session has enough taps",
     "die Werte sagen, wenn eine Sitzung Schläge genug hat",
     "dire le cifre quando una sessione ha abbastanza colpi"},
    {"the window's", "die des Fensters", "quella della finestra"},
    {"language of the voice", "Sprache der Stimme", "lingua della voce"},
    {"how fast it speaks", "wie schnell sie spricht", "quanto parla in fretta"},
    {"slowly", "langsam", "lentamente"},
    {"as it is set up", "wie eingerichtet", "come impostata"},
    {"fast", "schnell", "in fretta"},
    {"Say it once", "Einmal sagen", "Dillo una volta"},
    {"G says the figures and the decision at any time; Shift with G switches this on and off. "
     "While the voice speaks nothing is taken "
     "for a tap.",
     "G sagt Werte und Entscheidung jederzeit; Umschalt mit G schaltet dies ein und aus. Während "
     "die Stimme spricht, gilt nichts als "
     "Schlag.",
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
