// What was clicked and typed while one picture was drawn.
#include "screen/in_turn.hpp"
#include "support/catch.hpp"

#include <string>

using platewright::screen::InTurn;

namespace {

/// Notes what was passed on, and where a picture was drawn.
struct Passed {
    InTurn turn;
    std::string so_far;
    void add(InTurn::Kind kind, char name, int pictures) {
        turn.add(kind, [this, name, pictures] {
            so_far += name;
            return pictures;
        });
    }
    void mouse(char name, int pictures) { add(InTurn::Kind::of_mouse, name, pictures); }
    void key(char name, int pictures) { add(InTurn::Kind::of_keyboard, name, pictures); }
    void picture(int wanted = 0, bool is_writing = false) {
        turn.pass_on();
        so_far += '|';
        turn.drawn(wanted, is_writing);
    }
};

} // namespace

TEST_CASE(
    "a key that was struck after a click waits until the field that was clicked is written in") {
    Passed passed;
    passed.mouse('(', 2);
    passed.mouse(')', 1);
    passed.key('7', 0);
    for (int i = 0; i < 3; ++i)
        passed.picture();
    CHECK(passed.so_far == "(|)|7|"); // the button is up a picture later, and no earlier
    CHECK(passed.turn.empty());
}

TEST_CASE("letters of a field come together, a key that does something has a picture of its own") {
    Passed passed;
    for (const char letter : {'2', '1'})
        passed.key(letter, 0);
    passed.key('<', 1);
    passed.key('3', 0);
    passed.picture();
    passed.picture();
    CHECK(passed.so_far == "21<|3|");
}

TEST_CASE(
    "what a view calls into a field waits for it there, but not for a field that has it already") {
    for (const bool is_writing : {false, true}) {
        Passed passed;
        passed.key('e', 1);
        passed.key('9', 0);
        passed.picture(3, is_writing); // the form that opens asks for its first field
        passed.picture(2, is_writing);
        passed.picture(1, is_writing);
        passed.picture(0, is_writing);
        CHECK(passed.so_far == (is_writing ? "e|9|||" : "e|||9|"));
    }
}

TEST_CASE("without anything to wait for all is passed on at once, in its order") {
    Passed passed;
    passed.mouse('m', 0);
    passed.key('a', 0);
    passed.mouse('w', 0);
    passed.picture();
    CHECK(passed.so_far == "maw|");
}
