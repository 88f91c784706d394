// The program reads the demo workshop's recordings, whose modes and strikes are known: they come
// from the generator in sample-audio/, which shares no code with the analysis.

#include "reading.hpp"
#include "support/catch.hpp"

#include <cmath>
#include <filesystem>
#include <fstream>
#include <string>

namespace {

using nlohmann::json;
namespace fs = std::filesystem;

json recordings() {
    std::ifstream in(fs::path(DEMO_FOLDER) / "manifest.json");
    return json::parse(in).at("recordings");
}

/// What `read` printed for each recording of the manifest, in its order; read once.
const json& readings() {
    static const json all = [] {
        json made = json::array();
        for (const auto& entry : recordings()) {
            const auto file = fs::path(DEMO_FOLDER) / entry.at("file").get<std::string>();
            made.push_back(outside::read_by_program(file, "40:2500"));
        }
        return made;
    }();
    return all;
}

const json* tap_at(const json& reading, double onset_s) {
    for (const auto& tap : reading.at("taps")) {
        if (std::abs(tap.at("onset_s").get<double>() - onset_s) < 0.02) {
            return &tap;
        }
    }
    return nullptr;
}

} // namespace

TEST_CASE("every mode above -30 dB of the demo's tables: frequency to 0.15 %, Q to 10 %") {
    const auto truth = recordings();
    for (std::size_t k = 0; k < truth.size(); ++k) {
        for (const auto& mode : truth[k].at("modes")) {
            if (mode.at("level_db").get<double>() <= -30.0) {
                continue;
            }
            const double hz = mode.at("sounded_hz").get<double>();
            const double q = mode.at("sounded_q").get<double>();
            const auto* found = outside::nearest_mode(readings()[k], hz);
            REQUIRE(found != nullptr);
            INFO(truth[k].at("file") << " mode " << mode.at("number") << ": " << hz << " Hz, Q "
                                     << q << "; read " << *found);
            CHECK(std::abs(found->at("hz").get<double>() / hz - 1.0) <= 0.0015);
            CHECK(std::abs(found->at("q").get<double>() / q - 1.0) <= 0.10);
        }
    }
}

TEST_CASE("nothing stronger than -26 dB is read that is no mode of the demo's tables") {
    // The tables' modes lie above -21 dB or below -34 dB; hum, voices and chairs must not show.
    const auto truth = recordings();
    for (std::size_t k = 0; k < truth.size(); ++k) {
        for (const auto& found : readings()[k].at("modes")) {
            if (found.at("level_db").get<double>() <= -26.0) {
                continue;
            }
            const double hz = found.at("hz").get<double>();
            bool known = false;
            for (const auto& mode : truth[k].at("modes")) {
                known = known || std::abs(mode.at("sounded_hz").get<double>() / hz - 1.0) < 0.01;
            }
            INFO(truth[k].at("file") << " has no mode at " << hz << " Hz");
            CHECK(known);
        }
    }
}

TEST_CASE("every good strike of the demo is accepted, its onset within 2 ms") {
    const auto truth = recordings();
    for (std::size_t k = 0; k < truth.size(); ++k) {
        for (const auto& strike : truth[k].at("strikes")) {
            if (strike.at("verdict") != "accepted") {
                continue;
            }
            const double onset_s = strike.at("onset_s").get<double>();
            const auto* tap = tap_at(readings()[k], onset_s);
            INFO(truth[k].at("file") << " at " << onset_s << " s");
            REQUIRE(tap != nullptr);
            CHECK(tap->at("verdict") == "accepted");
            CHECK(std::abs(tap->at("onset_s").get<double>() - onset_s) <= 0.002);
        }
    }
}

TEST_CASE("no bad strike, chair or voice of the demo is accepted, and no strike twice") {
    const auto truth = recordings();
    for (std::size_t k = 0; k < truth.size(); ++k) {
        int good = 0;
        for (const auto& strike : truth[k].at("strikes")) {
            const auto* tap = tap_at(readings()[k], strike.at("onset_s").get<double>());
            const bool is_good = strike.at("verdict") == "accepted";
            good += is_good ? 1 : 0;
            INFO(truth[k].at("file") << " at " << strike.at("onset_s"));
            CHECK((is_good || tap == nullptr || tap->at("verdict") != "accepted"));
        }
        int accepted = 0;
        for (const auto& tap : readings()[k].at("taps")) {
            accepted += tap.at("verdict") == "accepted" ? 1 : 0;
        }
        INFO(truth[k].at("file"));
        CHECK(accepted == good);
    }
}

TEST_CASE("the demo's clipped and double strikes are refused for what they are") {
    const auto truth = recordings();
    for (std::size_t k = 0; k < truth.size(); ++k) {
        for (const auto& strike : truth[k].at("strikes")) {
            if (strike.at("verdict") != "clipped" && strike.at("verdict") != "struck_twice") {
                continue;
            }
            const auto* tap = tap_at(readings()[k], strike.at("onset_s").get<double>());
            INFO(truth[k].at("file") << " at " << strike.at("onset_s"));
            REQUIRE(tap != nullptr);
            CHECK(tap->at("verdict") == strike.at("verdict"));
        }
    }
}
