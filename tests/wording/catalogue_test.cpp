#include "base/text.hpp"
#include "support/catch.hpp"
#include "wording/catalogue.hpp"
#include "wording/say.hpp"

#include <cstdlib>
#include <fmt/args.h>
#include <fmt/format.h>
#include <set>

using namespace platewright;
using wording::DecimalMark;
using wording::Language;
using wording::say;
using wording::say_count;
using wording::Speaking;

namespace {

std::vector<wording::Row> all_rows() {
    std::vector<wording::Row> rows;
    for (const auto part : wording::k_catalogue) {
        rows.insert(rows.end(), part.begin(), part.end());
    }
    return rows;
}

} // namespace

TEST_CASE("every text is there in every language, with the same fields") {
    for (const wording::Row& row : all_rows()) {
        INFO(row.english);
        const wording::Fields english = wording::fields_of(row.english);
        CHECK(english.sound);
        CHECK(row.english.find("{0}") == std::string_view::npos); // its fields are in order
        for (const std::string_view text : {row.german, row.italian}) {
            INFO(text);
            CHECK_FALSE(text.empty());
            CHECK(wording::fields_of(text).sound);
            CHECK(wording::fields_of(text).count == english.count);
        }
    }
}

// {fmt} throws at what fields_of may take for sound: numbered fields among others.
TEST_CASE("every text can be said: its values stand in it, each once") {
    for (const wording::Row& row : all_rows()) {
        const std::size_t count = wording::fields_of(row.english).count;
        for (const std::string_view text : {row.english, row.german, row.italian}) {
            INFO(text);
            fmt::dynamic_format_arg_store<fmt::format_context> values;
            for (std::size_t i = 0; i < count; ++i)
                values.push_back("<" + std::to_string(i) + ">");
            std::string said;
            CHECK_NOTHROW(said = fmt::vformat(text, values));
            for (std::size_t i = 0; i < count; ++i)
                CHECK(said.find("<" + std::to_string(i) + ">") != std::string::npos);
        }
    }
}

TEST_CASE("texts keep their ends: a sentence stays one, and blanks at an end stay") {
    for (const wording::Row& row : all_rows()) {
        INFO(row.english);
        const char last = row.english.back();
        for (const std::string_view text : {row.german, row.italian}) {
            INFO(text);
            if (last == '.' || last == ' ' || last == '?' || last == ':') {
                CHECK(text.back() == last);
            } else {
                CHECK(text.back() != '.');
            }
            CHECK(base::is_plain_text(text));
        }
    }
}

TEST_CASE("no text is listed twice") {
    std::set<std::string_view> known;
    for (const wording::Row& row : all_rows()) {
        INFO(row.english);
        CHECK(known.insert(row.english).second);
    }
    CHECK(known.size() > 200);
}

TEST_CASE("fields that are not sound are seen") {
    CHECK(wording::fields_of("{} of {}").count == 2);
    CHECK(wording::fields_of("{1} von {0}").sound);
    CHECK_FALSE(wording::fields_of("{0} of {0}").sound);
    CHECK_FALSE(wording::fields_of("{0} of {2}").sound);
    CHECK_FALSE(wording::fields_of("{} of {1} and {0}").sound);
    CHECK_FALSE(wording::fields_of("an open {").sound);
    CHECK_FALSE(wording::fields_of("a closed }").sound);
    CHECK_FALSE(wording::fields_of("{:.1f}").sound);
}

TEST_CASE("what is said follows the language, and fields may change their order") {
    CHECK(say("Accepted") == "Accepted");
    CHECK(say("The taps of {} differ by {} %, too widely to compare: hang or hold the plate at a "
              "node and tap again.",
              "this session", "1.4")
              .starts_with("The taps of this session differ by 1.4 %"));
    const Speaking german(Language::german);
    CHECK(say("Accepted") == "Angenommen");
    CHECK(say("The taps of {} differ by {} %, too widely to compare: hang or hold the plate at a "
              "node and tap again.",
              say("this session"), wording::figure(1.4, 1))
              .starts_with("Die Schläge weichen um 1,4 % voneinander ab (diese Sitzung)"));
}

TEST_CASE("one has its own form, and none is more than one, as CLDR has it for whole numbers") {
    const auto taps = [](std::int64_t count) {
        return say_count(count, "{} good tap", "{} good taps");
    };
    CHECK(taps(0) == "0 good taps");
    CHECK(taps(1) == "1 good tap");
    CHECK(taps(2) == "2 good taps");
    const Speaking italian(Language::italian);
    CHECK(taps(0) == "0 colpi buoni");
    CHECK(taps(1) == "1 colpo buono");
    CHECK(taps(21) == "21 colpi buoni");
}

TEST_CASE("figures have the mark of the language, and files never do") {
    CHECK(wording::figure(352.75, 1) == "352.8");
    const Speaking german(Language::german);
    CHECK(wording::figure(352.75, 1) == "352,8");
    CHECK(wording::signed_figure(-0.42, 1) == "\u22120,4");
    CHECK(base::fixed(352.75, 1) == "352.8");
    CHECK(base::parse_number(wording::figure(101.4, 1)) == 101.4);
    const Speaking with_a_point(Language::german, DecimalMark::point);
    CHECK(wording::figure(352.75, 1) == "352.8");
}

TEST_CASE("a locale's name gives its language, and the surroundings are asked as POSIX has it") {
    CHECK(wording::language_from_locale("de_AT.UTF-8") == Language::german);
    CHECK(wording::language_from_locale("it") == Language::italian);
    CHECK(wording::language_from_locale("de@euro") == Language::german);
    CHECK_FALSE(wording::language_from_locale("deutsch"));
    CHECK_FALSE(wording::language_from_locale("C.UTF-8"));
    ::unsetenv("LC_ALL");
    ::unsetenv("LC_MESSAGES");
    ::setenv("LANG", "it_IT.UTF-8", 1);
    CHECK(wording::language_of_surroundings() == Language::italian);
    ::setenv("LC_ALL", "C", 1); // goes before LANG
    CHECK(wording::language_of_surroundings() == Language::english);
    ::unsetenv("LC_ALL");
    ::unsetenv("LANG");
    for (const Language language : wording::k_languages) {
        CHECK(wording::language_from_code(wording::to_code(language)) == language);
        CHECK_FALSE(wording::own_name(language).empty());
    }
}
