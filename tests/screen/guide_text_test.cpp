// What F12 shows: the guide's part for a view, its marks taken off, in each language and for each
// view of the window.
#include "headless_window.hpp"
#include "screen/help/guide_text.hpp"
#include "support/catch.hpp"
#include "support/sample_bench.hpp"

#include <algorithm>

using namespace platewright;
using Kind = screen::GuideBlock::Kind;

TEST_CASE(
    "A part of the guide is read without its marks, a button's name between quotation marks") {
    const auto blocks = screen::guide_part(
        "before\n<!-- help: drift -->\n## A *head*\n\nWords **bold** and `code`,\n"
        "going [on](there.md).\n\n- one\n  more\n- two\n\n| key | does |\n| --- | --- |\n"
        "| F1 | the bench |\n\n    platewright demo\n\n![a picture](x.png)\n"
        "<!-- help: end -->\nafter\n",
        "drift");
    const std::vector<screen::GuideBlock> wanted{
        {Kind::heading, "A \"head\""},      {Kind::paragraph, "Words bold and code, going on."},
        {Kind::item, "one more"},           {Kind::item, "two"},
        {Kind::row, "key \u2013 does"},     {Kind::row, "F1 \u2013 the bench"},
        {Kind::command, "platewright demo"}};
    CHECK(blocks == wanted);
    const wording::Speaking german(wording::Language::german);
    CHECK(screen::guide_part("<!-- help: wood -->\n(*Alle daneben halten* und *\u2026 ist daraus "
                             "gemacht*, **W**)\n",
                             "wood")
              .front()
              .words == "(\u201eAlle daneben halten\u201c und \u201e\u2026 ist daraus "
                        "gemacht\u201c, W)");
    CHECK(screen::guide_part("nothing here", "drift").empty());
    CHECK(screen::guide_part("", "").empty());
}

TEST_CASE("Every view has its part of the guide in every language") {
    std::vector<std::string> beginnings;
    for (const wording::Language language : wording::k_languages) {
        const std::string guide = screen::read_guide(language);
        REQUIRE_FALSE(guide.empty());
        for (const char* view : {"bench", "drift", "session", "beside", "plates", "sound",
                                 "settings", "carving", "wood"}) {
            INFO(view << ", " << wording::own_name(language));
            const auto blocks = screen::guide_part(guide, view);
            REQUIRE(blocks.size() >= 2);
            CHECK(blocks.front().kind == Kind::heading);
            for (const screen::GuideBlock& block : blocks)
                CHECK(block.words.find_first_of("*`|") == std::string::npos);
        }
        beginnings.push_back(screen::guide_part(guide, "drift").back().words);
    }
    CHECK(beginnings[0] != beginnings[1]);
    CHECK(beginnings[1] != beginnings[2]);
}

// They stood as far apart as paragraphs: a table of keys filled two screens.
TEST_CASE("lines of a table stand closer than paragraphs") {
    test::HeadlessWindow window(test::sample_snapshot(test::full_plate()), 1280, 2000, 1.0);
    window.strike(U'?');
    const auto found = [&](std::string_view begin) {
        const auto at = std::ranges::find_if(
            window.seen, [&](const screen::Seen& one) { return one.words.starts_with(begin); });
        REQUIRE(at != window.seen.end());
        return *at;
    };
    const screen::Seen bench = found("F1 \u2013 "), drift = found("F2 \u2013 ");
    CHECK(drift.where.top - bench.where.top < 1.6 * bench.height);
}

TEST_CASE("F12 shows the guide in place of a view and puts it away again") {
    test::HeadlessWindow window(test::sample_snapshot(test::full_plate()), 1280, 800, 1.0);
    window.strike(screen::Key::f2);
    CHECK_FALSE(window.reads("Close the guide"));
    window.strike(U'?');
    CHECK(window.reads("Close the guide"));
    window.strike(screen::Key::f4); // the guide stays, with that view's part
    CHECK(window.reads("Close the guide"));
    window.strike(U'?');
    CHECK_FALSE(window.reads("Close the guide"));
}
