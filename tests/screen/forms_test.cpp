// What is wrong with a form stands under its field, the field is marked, and nothing typed is lost.
#include "carved_plate.hpp"
#include "headless_window.hpp"
#include "support/catch.hpp"
#include "support/sample_stock.hpp"

using namespace platewright;
using screen::Key;
using test::HeadlessWindow;
using test::sample_plate;
using test::sample_snapshot;
namespace command = bench::command;

namespace {

/// A frame around the field in the colour of what is wrong: a corner of it at least.
bool is_marked(const plot::Box& about) {
    const ImU32 ink = screen::packed(plot::light_palette().on_bad);
    const auto near = [](float at, double edge) {
        return std::abs(static_cast<double>(at) - edge) < 12.0;
    };
    bool left = false, right = false;
    const ImDrawData* drawn = ImGui::GetDrawData();
    for (int list = 0; list < drawn->CmdListsCount; ++list) {
        for (const ImDrawVert& corner : drawn->CmdLists[list]->VtxBuffer) {
            if (corner.col != ink || static_cast<double>(corner.pos.y) < about.top - 1.0 ||
                static_cast<double>(corner.pos.y) > about.bottom + 1.0) {
                continue;
            }
            left = left || near(corner.pos.x, about.left);
            right = right || near(corner.pos.x, about.right);
        }
    }
    return left && right;
}

plot::Box place_of(const HeadlessWindow& window, const std::string& words) {
    const screen::Seen* seen = window.find(words);
    REQUIRE(seen != nullptr);
    return seen->where;
}

/// The first line of what is wrong begins right under the field: nothing is between them.
void check_under(const HeadlessWindow& window, const std::string& field,
                 const std::string& begins) {
    const plot::Box at = place_of(window, "[" + field + "]");
    CHECK(is_marked(at));
    const auto line = std::find_if(window.seen.begin(), window.seen.end(),
                                   [&](const auto& s) { return s.words.starts_with(begins); });
    REQUIRE(line != window.seen.end());
    CHECK(line->where.top >= at.bottom - 1.0);
    CHECK(line->where.top <= at.bottom + 30.0 * window.scale());
}

} // namespace

TEST_CASE("a session's mistyped figure is told under its field, and what else was typed stays") {
    HeadlessWindow window(sample_snapshot(sample_plate(3)));
    window.strike(U'e');
    window.press("[notes]");
    window.write("a dry day");
    window.press("[humidity, %]");
    window.write("x");
    window.press("[temperature, \u00b0C]");
    window.write("5"); // behind what is there: 20.55
    CHECK_FALSE(is_marked(place_of(window, "[humidity, %]")));
    window.press("Save");
    CHECK_FALSE(window.last_sent<command::SaveSession>());
    check_under(window, "humidity, %", "The humidity is");
    CHECK_FALSE(is_marked(place_of(window, "[mass, g]")));
    CHECK_FALSE(is_marked(place_of(window, "[temperature, \u00b0C]")));
    // The writing mark is in the field that is at fault, all of it chosen: what is typed replaces
    // it.
    window.write("47");
    window.press("Save");
    const auto saved = window.last_sent<command::SaveSession>();
    REQUIRE(saved);
    CHECK(saved->session.humidity_pct == Approx(47));
    CHECK(saved->session.temperature_c == Approx(20.55));
    CHECK(saved->session.notes == "a dry day");
}

TEST_CASE("an instrument without a label is told so under the label") {
    HeadlessWindow window(sample_snapshot(sample_plate(1)));
    window.strike(Key::f4);
    window.strike(U'i');
    window.press("[notes]");
    window.write("for the Larks");
    window.press("Save");
    check_under(window, "label", "Give the instrument");
    window.write("Larkfield 9");
    window.press("Save");
    REQUIRE(window.last_sent<command::SaveInstrument>());
    CHECK(window.last_sent<command::SaveInstrument>()->instrument.label == "Larkfield 9");
    CHECK(window.last_sent<command::SaveInstrument>()->instrument.notes == "for the Larks");
}

TEST_CASE("a plate's density and a wood's tap tone are told under their fields") {
    {
        HeadlessWindow window(sample_snapshot(sample_plate(1)));
        window.strike(Key::f4);
        window.strike(U'p');
        window.press("[density, kg/m\u00b3]");
        window.write("heavy");
        window.press("Save");
        check_under(window, "density, kg/m\u00b3", "The density is");
    }
    auto now = sample_snapshot(test::full_plate());
    now.stock = test::sample_stock();
    HeadlessWindow window(now);
    window.strike(Key::f9);
    window.strike(U'w');
    window.write("Maple 3");
    for (const auto& [field, words] :
         {std::pair{"along the grain, mm", "400"}, std::pair{"across the grain, mm", "190"},
          std::pair{"thickness, mm", "4"}, std::pair{"bending along the grain", "much"}}) {
        window.press("[" + std::string(field) + "]");
        window.write(words);
    }
    window.press("Save");
    check_under(window, "bending along the grain", "\u201cmuch\u201d is no tap tone");
}

TEST_CASE("settings and sheets mark the field that is at fault") {
    HeadlessWindow window(sample_snapshot(test::full_plate()), 1280,
                          1600); // all is seen at once
    window.strike(Key::f6);
    window.press("[humidity, %]");
    window.write("x");
    window.press("Keep this air");
    CHECK_FALSE(window.last_sent<command::SetAir>());
    check_under(window, "humidity, %", "The humidity is");
    window.show(test::carved().snapshot());
    window.strike(Key::f8);
    window.press("Shape");
    window.press("[Waist]");
    window.write("x");
    window.press("Keep this shape");
    check_under(window, "Waist", "Waist is a number");
}

TEST_CASE("what is wrong far down a long form comes into sight with its field") {
    HeadlessWindow window(test::carved().snapshot(), 1280, 800);
    window.strike(Key::f8);
    window.press("Shape");
    const auto turn = [&](float steps) {
        window.point_at({1040.0, 500.0});
        window.wheel(steps);
        window.pictures(4);
    };
    turn(-100.0F);
    window.press("[Run-out of the right half, \u00b0]");
    window.write("30");
    turn(100.0F);
    window.press("Keep this shape"); // at the form's head: the field is out of sight now
    CHECK_FALSE(window.last_sent<command::SetForm>());
    window.pictures(4);
    check_under(window, "Run-out of the right half, \u00b0", "The run-out");
}

TEST_CASE("in a window of any size no button of a form leaves it, notes are broken at its side") {
    for (const auto& [width, height, text] :
         {std::tuple{1280.0F, 800.0F, 1.0}, std::tuple{1280.0F, 800.0F, 2.0},
          std::tuple{1024.0F, 640.0F, 1.0}, std::tuple{3840.0F, 2160.0F, 1.0}}) {
        auto plate = sample_plate(3);
        plate->history.plate.notes = std::string(40, 'n');
        for (int i = 0; i < 30; ++i) {
            plate->history.plate.notes += " and a further word";
        }
        HeadlessWindow window(sample_snapshot(plate), width, height, text);
        window.strike(Key::f4);
        if (!window.reads("Sessions")) {
            window.press("back"); // stacked: the plate's page is opened from the list
        }
        for (const auto& seen : window.seen) {
            INFO(seen.words);
            CHECK(seen.where.right <= static_cast<double>(width) + 0.5);
            CHECK_FALSE(seen.cut_aside);
        }
        CHECK(window.reads_within("and a further word and a further"));
        window.strike(U'p');
        for (const char* button : {"Save", "Leave as it was"}) {
            const screen::Seen* seen = window.find_scrolling(button);
            window.point_at({0.8 * static_cast<double>(width), 0.5 * static_cast<double>(height)});
            for (int i = 0; i < 20 && seen == nullptr; ++i) {
                window.wheel(-3.0F); // a page beside another
                seen = window.find(button);
            }
            REQUIRE(seen != nullptr);
            CHECK(seen->where.right <= static_cast<double>(width));
            CHECK(seen->where.bottom <= static_cast<double>(height));
        }
    }
}

namespace {

/// A form asks for each field that its record's description has a label for.
template <class Record>
void check_all_asked(HeadlessWindow& window, std::string_view but = {}) {
    Record blank;
    for (const ledger::AskedField& field : ledger::asked_fields(blank)) {
        if (field.asked->label.empty() || field.column == but) {
            continue;
        }
        INFO(ledger::TableOf<Record>::name << "." << field.column);
        CHECK(window.find("[" + std::string(field.asked->label) + "]") != nullptr);
    }
}

} // namespace

TEST_CASE("what a record's description asks for has its field in the form") {
    HeadlessWindow window(sample_snapshot(sample_plate(3)), 1280, 1600);
    window.strike(U'e');
    check_all_asked<ledger::SessionRecord>(window);
    window.strike(Key::escape);
    window.strike(Key::f4);
    window.press("Change");
    check_all_asked<ledger::PlateRecord>(window, "part"); // by drawings
    CHECK((window.reads("part") && window.reads("body")));
    window.strike(Key::escape);
    window.press("Change the instrument");
    check_all_asked<ledger::InstrumentRecord>(window);
    window.strike(Key::escape);
    window.strike(Key::f9);
    window.strike(U'w');
    check_all_asked<ledger::WoodRecord>(window);
    check_all_asked<ledger::WoodTestRecord>(window, "thin_edge_mm"); // a wedge alone has one
    window.strike(Key::escape);
    window.show(test::carved().snapshot());
    window.strike(Key::f8);
    window.press("Shape");
    check_all_asked<ledger::FormRecord>(window);
}
