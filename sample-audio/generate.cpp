// Writes the demo workshop's recordings and their manifest from the modal tables beside it.
//   demo_generator TABLES_FOLDER OUT_FOLDER [SESSION_ID...]
// It shares no code with the program's analysis, so that the manifest is a truth of its own.

#include "performance.hpp"
#include "tables.hpp"

#include <algorithm>
#include <cmath>
#include <exception>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <sndfile.h>
#include <span>
#include <stdexcept>
#include <string>
#include <vector>

namespace {

using nlohmann::ordered_json;
namespace fs = std::filesystem;

void write_flac(const fs::path& file, const demo::Signal& sound, int bits) {
    SF_INFO info{};
    info.samplerate = demo::k_rate_hz;
    info.channels = 1;
    info.format = SF_FORMAT_FLAC | (bits == 24 ? SF_FORMAT_PCM_24 : SF_FORMAT_PCM_16);
    SNDFILE* out = sf_open(file.string().c_str(), SFM_WRITE, &info);
    if (out == nullptr) {
        throw std::runtime_error("cannot write " + file.string() + ": " + sf_strerror(nullptr));
    }
    // Rounded here, not by the library, so that no version of it can change the samples.
    std::vector<int> samples(sound.size());
    std::transform(sound.begin(), sound.end(), samples.begin(), [bits](double x) {
        return static_cast<int>(std::lround(std::ldexp(x, bits - 1))) << (32 - bits);
    });
    const auto length = static_cast<sf_count_t>(samples.size());
    const bool complete = sf_write_int(out, samples.data(), length) == length;
    if (sf_close(out) != 0 || !complete) {
        throw std::runtime_error("could not write all of " + file.string());
    }
}

std::vector<fs::path> tables_in(const fs::path& folder) {
    std::vector<fs::path> tables;
    for (const auto& entry : fs::directory_iterator(folder)) {
        if (entry.path().extension() == ".json") {
            tables.push_back(entry.path());
        }
    }
    std::sort(tables.begin(), tables.end());
    return tables;
}

ordered_json write_session(const demo::Plate& plate, const demo::Session& session,
                           const fs::path& out) {
    const auto performance = demo::play(session);
    write_flac(out / (session.id + ".flac"), performance.sound, session.bits);
    ordered_json entry;
    entry["file"] = session.id + ".flac";
    entry["sample_rate_hz"] = demo::k_rate_hz;
    entry["bits"] = session.bits;
    entry.update(plate.described);
    entry.update(session.described);
    entry.update(performance.truth);
    return entry;
}

void write_workshop(const fs::path& tables, const fs::path& out, std::span<char* const> wanted) {
    ordered_json manifest;
    manifest["invented"] = "An invented workshop: no such people, instruments or plates exist.";
    manifest["schema"] = "platewright.demo/1";
    manifest["recordings"] = ordered_json::array();
    for (const auto& table : tables_in(tables)) {
        const auto plate = demo::read_table(table);
        for (const auto& session : plate.sessions) {
            if (wanted.empty() ||
                std::find(wanted.begin(), wanted.end(), session.id) != wanted.end()) {
                manifest["recordings"].push_back(write_session(plate, session, out));
            }
        }
    }
    if (manifest["recordings"].empty()) {
        throw std::runtime_error("no session of that name in " + tables.string());
    }
    std::ofstream(out / "manifest.json") << manifest.dump(1) << '\n';
}

} // namespace

int main(int count, char** words) {
    if (count < 3) {
        std::cerr << "usage: demo_generator TABLES_FOLDER OUT_FOLDER [SESSION_ID...]\n";
        return 2;
    }
    try {
        const std::span<char* const> all(words, static_cast<std::size_t>(count));
        fs::create_directories(all[2]);
        write_workshop(all[1], all[2], all.subspan(3));
        return 0;
    } catch (const std::exception& wrong) {
        std::cerr << "demo_generator: " << wrong.what() << '\n';
        return 1;
    }
}
