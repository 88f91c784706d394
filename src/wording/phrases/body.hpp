#pragma once
#include "wording/row.hpp"

namespace platewright::wording {

/// The closed instrument, and the maker's targets.
inline constexpr auto k_body_phrases = std::to_array<Row>({
    {"body", "Korpus", "cassa"},
    {"closed", "geschlossen", "chiuso"},
    {"varnished", "lackiert", "verniciato"},
    {"set up", "spielfertig", "montato"},
    {"bridge, bass side", "Steg, Bassseite", "ponticello, lato bassi"},
    {"{} is beyond its target of {} Hz already; more wood off leads further away.",
     "{} ist schon jenseits des Ziels von {} Hz; weiteres Abnehmen führt weiter weg.",
     "{} è già oltre la meta di {} Hz; togliere altro legno allontana di più."},
    {"A pass of {} g would take {} beyond its target of {} Hz with a chance of {} %: wood taken "
     "off "
     "can't be put back.",
     "Ein Durchgang von {0} g brächte {1} mit einer Wahrscheinlichkeit von {3} % über das Ziel von "
     "{2} "
     "Hz hinaus: abgenommenes Holz kommt nicht zurück.",
     "Una passata di {} g porterebbe {} oltre la meta di {} Hz con una probabilità del {} %: il "
     "legno tolto non si rimette."},
    {"Damp the strings, strike the bridge sideways at its bass corner.",
     "Die Saiten dämpfen, den Steg seitlich an der Bassecke anschlagen.",
     "Smorzare le corde, battere il ponticello di lato all'angolo dei bassi."},
    {"bridge, treble side", "Steg, Diskantseite", "ponticello, lato acuti"},
});

} // namespace platewright::wording
