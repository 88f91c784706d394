#include "base/text.hpp"
#include "base/utf8.hpp"
#include "support/catch.hpp"

#include <string>

using namespace platewright::base;

// RFC 3629, section 3 (the table of forms) and section 4 (the ABNF); the ill-formed ones are those
// of its section 10 and of the Unicode Standard 15, table 3-7 and the examples of section 3.9.
TEST_CASE("UTF-8 is told from what is none, as RFC 3629 has it") {
    for (const char* good : {"", "plain", "Fichte, épicéa", "\u00E4", "\u07FF", "\u0800", "\uD7FF",
                             "\uE000", "\uFFFD", "\U00010000", "\U0010FFFF", "\u4E2D\u6587"}) {
        CAPTURE(good);
        CHECK(is_utf8(good));
    }
    for (const char* bad : {"\x80",
                            "\xBF",
                            "\xC0\xAF",
                            "\xC1\xBF",
                            "\xE0\x80\xAF",
                            "\xE0\x9F\xBF",
                            "\xF0\x80\x80\xAF",
                            "\xF0\x8F\xBF\xBF",
                            "\xED\xA0\x80",
                            "\xED\xBF\xBF",
                            "\xED\xA0\x80\xED\xB0\x80",
                            "\xF4\x90\x80\x80",
                            "\xF5\x80\x80\x80",
                            "\xFE",
                            "\xFF",
                            "\xC3",
                            "\xE2\x82",
                            "\xF0\x9F\x98",
                            "\xC3(",
                            "a\xE2\x28\xA1",
                            "\xF8\x88\x80\x80\x80"}) {
        CAPTURE(bad);
        CHECK_FALSE(is_utf8(bad));
        CHECK_FALSE(is_plain_text(bad));
    }
}

TEST_CASE("every code point but the surrogates is a letter, in its shortest form only") {
    const auto put = [](char32_t code, std::size_t bytes) {
        std::string text;
        constexpr unsigned char k_leads[] = {0, 0, 0xC0, 0xE0, 0xF0};
        if (bytes == 1)
            return std::string(1, static_cast<char>(code));
        text += static_cast<char>(k_leads[bytes] | (code >> (6 * (bytes - 1))));
        for (std::size_t i = bytes - 1; i-- > 0;)
            text += static_cast<char>(0x80U | ((code >> (6 * i)) & 0x3FU));
        return text;
    };
    std::size_t wrong = 0;
    for (char32_t code = 0; code <= 0x10FFFF; ++code) {
        const std::size_t shortest = code < 0x80 ? 1 : code < 0x800 ? 2 : code < 0x10000 ? 3 : 4;
        const auto letter = first_letter(put(code, shortest));
        const bool is_surrogate = code >= 0xD800 && code <= 0xDFFF;
        const bool is_read = letter && letter->code == code && letter->bytes == shortest;
        if (is_surrogate ? letter.has_value() : !is_read)
            ++wrong;
        if (shortest < 4 && code > 0 && first_letter(put(code, shortest + 1)))
            ++wrong;
    }
    CHECK(wrong == 0);
}

TEST_CASE("letters that act unseen are made harmless, and words of every script stay") {
    CHECK(harmless("Wren\x1B[31m") == "Wren\uFFFD[31m");
    CHECK(harmless("a\x07z\x7Fz\xC2\x9Bz") == "a\uFFFDz\uFFFDz\uFFFDz");
    CHECK(harmless("a\u202Eb\u2066c\u200Bd\uFEFFe") == "a\uFFFDb\uFFFDc\uFFFDd\uFFFDe");
    CHECK(harmless("a\xED\xA0\x80z") == "a\uFFFD\uFFFD\uFFFDz");
    CHECK(harmless("one\ntwo\tthree", Lines::keep) == "one\ntwo\tthree");
    CHECK(harmless("one\ntwo") == "one\uFFFDtwo");
    for (const char* word : {"Épicéa – “dicht”", "عربی", "می\u200Cخواهم", "ไม้", "\U0001F3BB"})
        CHECK(harmless(word) == word);
    CHECK(is_plain_text("می\u200Cخواهم"));
    CHECK_FALSE(is_plain_text("a\u202Eb"));
}
