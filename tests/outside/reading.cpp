#include "reading.hpp"

#include <array>
#include <cmath>
#include <cstdio>
#include <memory>
#include <random>
#include <sndfile.h>
#include <stdexcept>

namespace outside {

nlohmann::json read_by_program(const std::filesystem::path& recording, const std::string& band) {
    const std::string command =
        "'" PLATEWRIGHT_PROGRAM "' read --json --band " + band + " '" + recording.string() + "'";
    FILE* const pipe = popen(command.c_str(), "r");
    if (pipe == nullptr) {
        throw std::runtime_error("cannot run " + command);
    }
    std::string printed;
    std::array<char, 4096> part{};
    while (const auto got = std::fread(part.data(), 1, part.size(), pipe)) {
        printed.append(part.data(), got);
    }
    if (pclose(pipe) != 0) {
        throw std::runtime_error("did not exit with 0: " + command);
    }
    return nlohmann::json::parse(printed).at("files").at(0);
}

std::vector<float> with_room(const Bar& bar) {
    std::mt19937 random(20260214);
    std::normal_distribution<float> room(0.0F, 3.2e-5F); // -90 dBFS
    std::vector<float> samples(static_cast<std::size_t>(0.5 * bar.sample_rate_hz), 0.0F);
    samples.insert(samples.end(), bar.samples.begin(), bar.samples.end());
    for (float& x : samples) {
        x += room(random);
    }
    return samples;
}

namespace {

std::filesystem::path write(const Bar& bar, const std::vector<float>& samples,
                            const std::filesystem::path& folder) {
    std::filesystem::create_directories(folder);
    const auto file = folder / (bar.name + ".wav");
    SF_INFO info{};
    info.samplerate = static_cast<int>(bar.sample_rate_hz);
    info.channels = 1;
    info.format = SF_FORMAT_WAV | SF_FORMAT_FLOAT;
    SNDFILE* out = sf_open(file.string().c_str(), SFM_WRITE, &info);
    if (out == nullptr) {
        throw std::runtime_error("cannot write " + file.string());
    }
    const auto length = static_cast<sf_count_t>(samples.size());
    const bool complete = sf_write_float(out, samples.data(), length) == length;
    if (sf_close(out) != 0 || !complete) {
        throw std::runtime_error("could not write all of " + file.string());
    }
    return file;
}

} // namespace

std::filesystem::path write_with_room(const Bar& bar, const std::filesystem::path& folder) {
    return write(bar, with_room(bar), folder);
}

std::filesystem::path write_as_cut(const Bar& bar, const std::filesystem::path& folder) {
    return write(bar, bar.samples, folder);
}

const nlohmann::json* nearest_mode(const nlohmann::json& reading, double hz) {
    const nlohmann::json* nearest = nullptr;
    double least = 0;
    for (const auto& mode : reading.at("modes")) {
        const double apart = std::abs(std::log(mode.at("hz").get<double>() / hz));
        if (nearest == nullptr || apart < least) {
            nearest = &mode;
            least = apart;
        }
    }
    return nearest;
}

} // namespace outside
