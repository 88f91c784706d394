#include "base/text.hpp"
#include "support/catch.hpp"

using namespace platewright::base;

TEST_CASE("a number a person typed is read with point or comma") {
    CHECK(parse_number("12.5") == 12.5);
    CHECK(parse_number(" 12,5 ") == 12.5);
    CHECK(parse_number("+3") == 3.0);
    CHECK(parse_number("-0,25") == -0.25);
}

TEST_CASE("what is not wholly a finite number is refused") {
    for (const char* text : {"", " ", "12a", "1.2.3", "1,2,3", "nan", "inf", "1e999", "--1"})
        CHECK_FALSE(parse_number(text));
}

TEST_CASE("numbers are written with a point and a fixed count of digits") {
    CHECK(fixed(172.346, 1) == "172.3");
    CHECK(fixed(-0.001, 1) == "0.0");
    CHECK(signed_fixed(1.25, 1) == "+1.2");
    CHECK(signed_fixed(-3.46, 1) == "\u22123.5");
    CHECK(signed_fixed(-0.01, 1) == "+0.0");
}

TEST_CASE("plain text is UTF-8 on one line") {
    CHECK(is_plain_text("Wren back, Fichte ä ♯"));
    CHECK(is_plain_text(""));
    for (const char* text :
         {"two\nlines", "\x1b[31m", "\xff", "\xc3", "\xe2\x82", "\xc0\xaf", "tab\t"})
        CHECK_FALSE(is_plain_text(text));
}

TEST_CASE("a measure is read with its unit after it or without") {
    CHECK(parse_measure("205,0g", "g") == 205.0);
    CHECK(parse_measure(" 45% ", "%") == 45.0);
    CHECK(parse_measure("45 %", "%") == 45.0);
    CHECK(parse_measure("21.5 °C", "°C") == 21.5);
    CHECK(parse_measure("21.5C", "°C") == 21.5);
    CHECK(parse_measure("412 kg/m3", "kg/m³") == 412.0);
    CHECK(parse_measure("61.25", "g") == 61.25);
    CHECK_FALSE(parse_measure("205 oz", "g"));
    CHECK_FALSE(parse_measure("0.2 kg", "g"));
    CHECK_FALSE(parse_measure("g", "g"));
}
