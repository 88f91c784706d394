// The recordings in sample-audio/ are those the generator makes from the tables beside them, and
// manifest.json is their truth.

#include "performance.hpp"
#include "support/catch.hpp"
#include "tables.hpp"

#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sndfile.h>
#include <vector>

namespace {

namespace fs = std::filesystem;
using nlohmann::ordered_json;

ordered_json manifest() {
    std::ifstream in(fs::path(DEMO_FOLDER) / "manifest.json");
    return ordered_json::parse(in);
}

/// Samples as whole numbers, full scale 2^31.
std::vector<int> read_samples(const fs::path& file) {
    SF_INFO info{};
    SNDFILE* in = sf_open(file.string().c_str(), SFM_READ, &info);
    REQUIRE(in != nullptr);
    REQUIRE(info.channels == 1);
    REQUIRE(info.samplerate == demo::k_rate_hz);
    std::vector<int> samples(static_cast<std::size_t>(info.frames));
    const auto got = sf_read_int(in, samples.data(), info.frames);
    sf_close(in);
    REQUIRE(got == info.frames);
    return samples;
}

demo::Session session_of(const char* table, std::string_view id) {
    const auto plate = demo::read_table(fs::path(DEMO_FOLDER) / "tables" / table);
    for (const auto& session : plate.sessions) {
        if (session.id == id) {
            return session;
        }
    }
    FAIL("no session " << id << " in " << table);
    return {};
}

} // namespace

TEST_CASE("the generator makes a committed recording again, to the last bit but rounding") {
    const auto session = session_of("wren-back.json", "wren-back-4");
    const auto played = demo::play(session);
    const auto kept = read_samples(fs::path(DEMO_FOLDER) / "wren-back-4.flac");
    REQUIRE(kept.size() == played.sound.size());
    // Another compiler's sine may round the other way: one step of the file's bit depth.
    const double step = std::ldexp(1.0, 32 - session.bits);
    double furthest = 0.0;
    for (std::size_t n = 0; n < kept.size(); ++n) {
        furthest = std::max(furthest, std::abs(std::ldexp(played.sound[n], 31) - kept[n]));
    }
    CHECK(furthest <= 1.5 * step);
}

TEST_CASE("the manifest holds what the generator says of the same session") {
    const auto truth = demo::play(session_of("wren-back.json", "wren-back-4")).truth;
    const auto all = manifest();
    for (const auto& entry : all.at("recordings")) {
        if (entry.at("file") != "wren-back-4.flac") {
            continue;
        }
        CHECK(entry.at("strikes") == truth.at("strikes"));
        REQUIRE(entry.at("modes").size() == truth.at("modes").size());
        for (std::size_t k = 0; k < truth.at("modes").size(); ++k) {
            const auto& ours = entry.at("modes").at(k);
            const auto& theirs = truth.at("modes").at(k);
            CHECK(std::abs(ours.at("sounded_hz").get<double>() -
                           theirs.at("sounded_hz").get<double>()) < 0.002);
        }
        return;
    }
    FAIL("wren-back-4.flac is not in the manifest");
}

TEST_CASE("the demo workshop is marked as invented and holds the plates it promises") {
    const auto all = manifest();
    CHECK(all.at("invented").get<std::string>().find("nvented") != std::string::npos);
    int backs = 0;
    int tops = 0;
    int references = 0;
    std::uintmax_t bytes = 0;
    for (const auto& entry : all.at("recordings")) {
        const auto plate = entry.at("plate").get<std::string>();
        backs += plate == "Wren back" ? 1 : 0;
        tops += plate == "Wren top" ? 1 : 0;
        references += plate == "Heron back" ? 1 : 0;
        int good = 0;
        for (const auto& strike : entry.at("strikes")) {
            good += strike.at("verdict") == "accepted" ? 1 : 0;
        }
        CHECK(good >= 8);
        const auto file = fs::path(DEMO_FOLDER) / entry.at("file").get<std::string>();
        REQUIRE(fs::exists(file));
        bytes += fs::file_size(file);
    }
    CHECK(backs == 9);
    CHECK(tops == 2);
    CHECK(references == 1);
    CHECK(bytes < 20'000'000);
}
