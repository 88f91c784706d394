// Sessions of one thing struck seven times, with other sounds between: what is taken by itself,
// what because it rings like the rest (modes/ring/recognised.hpp), and what is left for the maker's
// word?
//   speed_ring_sessions [SEED [EACH]]
// Seeds 81000 and 82000 were looked at while its constants were chosen. Needs espeak-ng. Prints
// Markdown.
#include "modes/estimate/fit.hpp"
#include "modes/ring/recognised.hpp"
#include "speed/rings/cases.hpp"
#include "taps/onset/detector.hpp"

#include <cstdio>
#include <cstdlib>
#include <string>
#include <vector>

using namespace rings;
using namespace platewright;

namespace {

struct Heard {
    bool strike = false;
    bool passed = false; ///< the detector
    modes::Fit fit;
    bool recognised = false;

    bool counts() const { return passed && (fit.status == modes::FitStatus::ok || recognised); }
    bool doubtful() const {
        return passed && fit.status == modes::FitStatus::doubtful && !recognised;
    }
};

struct Row {
    int strikes = 0, alone = 0, together = 0, doubtful = 0, others = 0, others_alone = 0,
        others_together = 0;
};

/// A case nobody heard is a strike refused.
std::vector<Heard> hear(const Case& made, bool strike) {
    taps::Detector detector(made.rate_hz, {.low_hz = made.low_hz, .high_hz = made.high_hz});
    auto taps = detector.push(std::vector<float>(made.sound.begin(), made.sound.end()));
    for (taps::Tap& tap : detector.finish())
        taps.push_back(std::move(tap));
    std::vector<Heard> heard;
    for (const taps::Tap& tap : taps) {
        if (taps::begins_with_stream(tap))
            continue; // the room
        Heard one{.strike = strike,
                  .passed = tap.verdict == taps::Verdict::accepted,
                  .fit = {},
                  .recognised = false};
        if (one.passed)
            one.fit = modes::fit_tap(tap, {.low_hz = made.low_hz, .high_hz = made.high_hz});
        heard.push_back(std::move(one));
    }
    if (strike && heard.empty())
        heard.push_back({.strike = true, .passed = false, .fit = {}, .recognised = false});
    return heard;
}

void recognise(std::vector<Heard>& heard) {
    std::vector<modes::JudgedRing> rings;
    std::vector<Heard*> of;
    for (Heard& one : heard)
        if (one.counts() || one.doubtful()) {
            rings.push_back({one.fit.evidence, one.fit.partials, one.counts()});
            of.push_back(&one);
        }
    for (const std::size_t i : modes::recognise(rings))
        of[i]->recognised = true;
}

void add(const std::vector<Heard>& heard, Row& row) {
    for (const Heard& one : heard) {
        const bool alone = one.passed && one.fit.status == modes::FitStatus::ok;
        (one.strike ? row.strikes : row.others) += 1;
        (one.strike ? row.alone : row.others_alone) += alone ? 1 : 0;
        (one.strike ? row.together : row.others_together) += one.counts() ? 1 : 0;
        row.doubtful += one.strike && one.doubtful() ? 1 : 0;
    }
}

} // namespace

int main(int argc, char** argv) {
    const std::uint64_t seed = argc > 1 ? std::strtoull(argv[1], nullptr, 10) : 83000;
    const int each = argc > 2 ? std::atoi(argv[2]) : 10;
    std::vector<std::pair<std::string, Row>> rows;
    sittings(detection::Speakers(42, seed), seed, each, [&](Sitting&& sitting) {
        std::vector<Heard> heard;
        for (const auto* cases : {&sitting.strikes, &sitting.others})
            for (const Case& made : *cases)
                for (Heard& one : hear(made, cases == &sitting.strikes))
                    heard.push_back(std::move(one));
        recognise(heard);
        if (rows.empty() || rows.back().first != sitting.group)
            rows.emplace_back(sitting.group, Row{});
        add(heard, rows.back().second);
    });
    std::printf(
        "Seed %llu, %d sessions a row.\n\n| struck seven times | strikes | accepted each by "
        "itself | with the session's others | doubtful, by the maker's word | other sounds | "
        "accepted by themselves | with the others |\n|---|---|---|---|---|---|---|---|\n",
        static_cast<unsigned long long>(seed), each);
    for (const auto& [group, row] : rows)
        std::printf("| %s | %d | %d | %d | %d | %d | %d | %d |\n", group.c_str(), row.strikes,
                    row.alone, row.together, row.doubtful, row.others, row.others_alone,
                    row.others_together);
}
