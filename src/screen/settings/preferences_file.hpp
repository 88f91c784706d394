#pragma once
#include "wording/language.hpp"

#include <optional>
#include <string>

namespace platewright::screen {

/// Where the window stood when it was closed, in screen coordinates; nothing of it is trusted when
/// the screen is another one.
struct WindowPlace {
    int left = 0;
    int top = 0;
    int width = 0; // 0: never noted
    int height = 0;
    bool whole = false; // the whole screen
    bool operator==(const WindowPlace&) const = default;
};

/// How the maker likes the window; remembered from run to run.
struct Preferences {
    bool dark = false;
    double text_size = 1.0; // 0.75 to 2, on top of what the window's size gives
    std::optional<wording::Language> language = {}; // nothing: the surroundings'
    std::optional<wording::DecimalMark> mark = {};  // nothing: as the language has it
    double reference_pitch_hz = 440.0; // of a¹; k_lowest_pitch_hz to k_highest_pitch_hz
    bool note_names = true;            // beside Hz
    bool logarithmic = false;          // frequency across spectra
    bool answers_aloud = false;        // a soft sound after each tap
    int taps_a_spot = 3;               // good ones, then the next spot; 0: never
    bool says_figures = false;         // aloud, when a session's taps are enough
    std::optional<wording::Language> voice_language = {}; // nothing: the window's
    int voice_rate = 0;                                   // −100 to 100; 0: as it is set up
    std::string paper_folder = {}; // where what is written goes; empty: the desktop's own
    bool letter = false;           // paper; else A4
    WindowPlace window = {};
    bool operator==(const Preferences&) const = default;
};
inline constexpr double k_lowest_pitch_hz = 380.0;
inline constexpr double k_highest_pitch_hz = 480.0;

wording::Language language_of(const Preferences& preferences);
wording::DecimalMark mark_of(const Preferences& preferences);

/// The maker's preferences, kept in $XDG_CONFIG_HOME/platewright/window (else under ~/.config) as
/// lines "name value". What can't be read is as made; what can't be written is let go, since
/// nothing but comfort is lost.
Preferences read_preferences();
void write_preferences(const Preferences& preferences);

} // namespace platewright::screen
