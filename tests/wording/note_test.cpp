#include "support/catch.hpp"
#include "wording/language.hpp"

using namespace platewright::wording;

// Frequencies of equal temperament at A4 = 440 Hz (ISO 16:1975 for the pitch; the twelfth root of
// two for the rest, as any table of them has it).
TEST_CASE("notes are named as tables of equal temperament have them") {
    CHECK(note_text(440.0, 440.0) == "A4 +0 cents");
    CHECK(note_text(261.6256, 440.0) == "C4 +0 cents");
    CHECK(note_text(349.2282, 440.0) == "F4 +0 cents");
    CHECK(note_text(27.5, 440.0) == "A0 +0 cents");
    CHECK(note_text(4186.009, 440.0) == "C8 +0 cents");
    CHECK(note_text(246.9417, 440.0) == "B3 +0 cents");
    CHECK(note_text(16.35160, 440.0) == "C0 +0 cents");
    CHECK(note_text(15.43385, 440.0) == "B-1 +0 cents"); // below the first octave
}

TEST_CASE("cents are counted from the nearest note at the pitch that was set") {
    CHECK(note_text(352.8, 440.0) == "F4 +18 cents"); // 1200 log2(352.8 / 349.2282) = 17.6
    CHECK(note_text(440.0, 415.3047) == "A#4 +0 cents");
    CHECK(note_text(432.0, 440.0) == "A4 \u221232 cents"); // 1200 log2(432 / 440) = -31.77
    CHECK(note_text(0.0, 440.0).empty());
    CHECK(note_text(440.0, 0.0).empty());
}

TEST_CASE("each language has its own names, and B is not B") {
    speak(Language::german, DecimalMark::comma);
    CHECK(note_text(246.9417, 440.0) == "H3 +0 Cent");
    CHECK(note_text(233.0819, 440.0) == "B3 +0 Cent");
    CHECK(note_text(369.9944, 440.0) == "Fis4 +0 Cent");
    speak(Language::italian, DecimalMark::comma);
    CHECK(note_text(440.0, 440.0) == "La4 +0 cent");
    speak(Language::english, DecimalMark::point);
}
