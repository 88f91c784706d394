// What the keyboard's keys mean, by GLFW's numbers for them (its input guide, "Key tokens").
#include "screen/native_window.hpp"
#include "support/catch.hpp"

using platewright::screen::Key;
using platewright::screen::key_of;

TEST_CASE("Canc takes a tap back as Backspace does, and a foot switch's keys are a pedal") {
    constexpr int k_backspace = 259, k_insert = 260, k_delete = 261, k_f13 = 302, k_a = 65;
    CHECK(key_of(k_backspace) == Key::backspace);
    CHECK(key_of(k_delete) == Key::backspace);
    CHECK(key_of(k_insert) == Key::pedal);
    CHECK(key_of(k_f13) == Key::pedal);
    CHECK_FALSE(key_of(k_a)); // a letter comes as what it writes
}
