// A real rosewood xylophone: npm package tonejs-instrument-xylophone-wav 1.1.1 (CC-BY-3.0 by its
// README). tests/outside/with_xylophone fetches it into the build folder and says where it lies.

#include "bars.hpp"
#include "reading.hpp"
#include "support/catch.hpp"

#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <string>

namespace {

using namespace outside;
namespace fs = std::filesystem;

struct Note {
    const char* name;
    int midi; // 69 is the A of 440 Hz
};
constexpr Note k_notes[] = {{"G4", 67}, {"C5", 72}, {"G5", 79},  {"C6", 84},
                            {"G6", 91}, {"C7", 96}, {"G7", 103}, {"C8", 108}};

double cents(double hz, double from_hz) { return 1200.0 * std::log2(hz / from_hz); }

Bar bar_of(const Note& note) {
    const char* folder = std::getenv("XYLOPHONE_FOLDER");
    REQUIRE(folder != nullptr);
    return read_bar(fs::path(folder) / (std::string(note.name) + ".wav"),
                    440.0 * std::exp2((note.midi - 69) / 12.0));
}

const auto k_scratch = fs::path(PLATEWRIGHT_BUILD_DIR) / "scratch" / "xylophone";

nlohmann::json read_note(const Bar& bar) {
    return read_by_program(write_with_room(bar, k_scratch), "100:6000");
}

} // namespace

TEST_CASE("the rosewood xylophone: fundamentals to 3 cents of the transform, 35 of the label") {
    for (const Note& note : k_notes) {
        const Bar bar = bar_of(note);
        const double transform_hz = transform_peak_hz(bar, bar.label_hz, 60.0);
        const auto reading = read_note(bar);
        const auto* mode = nearest_mode(reading, transform_hz);
        REQUIRE(mode != nullptr);
        const double hz = mode->at("hz").get<double>();
        INFO(note.name << ": read " << hz << ", transform " << transform_hz << ", label "
                       << bar.label_hz);
        CHECK(std::abs(cents(hz, transform_hz)) <= 3.0);
        CHECK(std::abs(hz - transform_hz) <= 1.96 * mode->at("hz_sd").get<double>());
        CHECK(std::abs(cents(hz, bar.label_hz)) <= 35.0);
    }
}

TEST_CASE("the rosewood xylophone's lower bars: second partial near 3 times the fundamental") {
    // Xylophone bars are cut so that the second mode stands a twelfth above the first (N. H.
    // Fletcher and T. D. Rossing, The Physics of Musical Instruments, ch. 19; from memory).
    for (const Note& note : {k_notes[0], k_notes[1], k_notes[3]}) {
        const Bar bar = bar_of(note);
        const auto reading = read_note(bar);
        const double fundamental_hz = nearest_mode(reading, bar.label_hz)->at("hz").get<double>();
        const auto* mode = nearest_mode(reading, 3.0 * fundamental_hz);
        REQUIRE(mode != nullptr);
        const double ratio = mode->at("hz").get<double>() / fundamental_hz;
        INFO(note.name << ": " << ratio);
        CHECK(std::abs(ratio - 3.0) <= 0.06);
    }
}

TEST_CASE("the rosewood xylophone as it is cut, right at the strike: fundamentals to 3 cents") {
    for (const Note& note : k_notes) {
        const Bar bar = bar_of(note);
        const double transform_hz = transform_peak_hz(bar, bar.label_hz, 60.0);
        const auto reading = read_by_program(write_as_cut(bar, k_scratch / "cut"), "100:6000");
        const auto* mode = nearest_mode(reading, transform_hz);
        REQUIRE(mode != nullptr);
        const double hz = mode->at("hz").get<double>();
        INFO(note.name << ": read " << hz << ", transform " << transform_hz);
        CHECK(std::abs(cents(hz, transform_hz)) <= 3.0);
        CHECK(std::abs(hz - transform_hz) <= 1.96 * mode->at("hz_sd").get<double>());
    }
}
