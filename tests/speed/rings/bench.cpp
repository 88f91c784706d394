// What is taken for a strike, group by group: wrong refusals, wrong acceptances, second contacts
// found.
//   speed_rings [SEED [EACH [FOLDER [FEATURES]]]]
// FOLDER holds recorded strikes with a MANIFEST.tsv; FEATURES gets what the ring test saw of each
// tap, as CSV, for tests/speed/rings/weigh.py. Seed 51000 is the reported table; others were for
// fitting. Needs espeak-ng. Prints Markdown.
#include "modes/estimate/fit.hpp"
#include "speed/rings/cases.hpp"
#include "taps/onset/detector.hpp"

#include <array>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <map>
#include <string>
#include <vector>

using namespace rings;
using namespace platewright;

namespace {

struct Heard {
    taps::Tap tap;
    modes::Fit fit;
    bool accepted = false;
    std::string why;
};

std::vector<Heard> hear(const Case& made) {
    taps::Detector detector(made.rate_hz, {.low_hz = made.low_hz, .high_hz = made.high_hz});
    auto taps = detector.push(std::vector<float>(made.sound.begin(), made.sound.end()));
    for (taps::Tap& tap : detector.finish())
        taps.push_back(std::move(tap));
    std::vector<Heard> all;
    for (taps::Tap& tap : taps) {
        if (taps::begins_with_stream(tap))
            continue; // the room
        Heard heard{.tap = std::move(tap), .why = {}};
        heard.why = taps::to_word(heard.tap.verdict);
        if (heard.tap.verdict == taps::Verdict::accepted ||
            heard.tap.verdict == taps::Verdict::struck_twice)
            heard.fit = modes::fit_tap(heard.tap, {.low_hz = made.low_hz, .high_hz = made.high_hz});
        if (heard.tap.verdict == taps::Verdict::accepted) {
            constexpr std::array words{"accepted", "too_short", "no_ring", "doubtful"};
            heard.why = words[static_cast<std::size_t>(heard.fit.status)];
            heard.accepted = heard.fit.status == modes::FitStatus::ok;
        }
        all.push_back(std::move(heard));
    }
    return all;
}

struct Row {
    int cases = 0, accepted = 0, as_twice = 0;
    std::map<std::string, int> refused;
};

class Features {
public:
    explicit Features(const char* path) : file_(path ? std::fopen(path, "w") : nullptr) {
        if (file_)
            std::fputs("group,source,kind,high_hz,first,verdict,energy,untold,untold_late,mean_q,"
                       "unsure,swell_db,modes,room\n",
                       file_);
    }
    ~Features() {
        if (file_)
            std::fclose(file_);
    }
    Features(const Features&) = delete;
    Features& operator=(const Features&) = delete;
    void add(const Case& made, bool first, const Heard& heard) {
        if (!file_)
            return;
        const auto& e = heard.fit.evidence;
        std::fprintf(
            file_, "\"%s\",\"%s\",%d,%g,%d,%s,%g,%g,%g,%g,%g,%g,%g,%g\n", made.group.c_str(),
            made.source.c_str(), static_cast<int>(made.kind), made.high_hz, first ? 1 : 0,
            std::string(taps::to_word(heard.tap.verdict)).c_str(), e.energy, e.untold,
            e.untold_late, e.mean_q, e.unsure, e.swell_db, e.modes, heard.fit.input.room.share);
    }

private:
    std::FILE* file_;
};

void print(const char* title, Kind kind, const std::map<std::pair<Kind, std::string>, Row>& rows) {
    std::printf("\n### %s\n\n| what sounded | events | accepted | struck twice | why not "
                "|\n|---|---|---|---|---|\n",
                title);
    for (const auto& [name, row] : rows) {
        if (name.first != kind)
            continue;
        std::string why;
        for (const auto& [reason, count] : row.refused)
            why += (why.empty() ? "" : ", ") + std::to_string(count) + " " + reason;
        std::printf("| %s | %d | %d (%.1f %%) | %d | %s |\n", name.second.c_str(), row.cases,
                    row.accepted, 100.0 * row.accepted / std::max(1, row.cases), row.as_twice,
                    why.c_str());
    }
}

} // namespace

int main(int argc, char** argv) {
    const std::uint64_t seed = argc > 1 ? std::strtoull(argv[1], nullptr, 10) : 51000;
    const int each = argc > 2 ? std::atoi(argv[2]) : 20;
    Features features(argc > 4 ? argv[4] : nullptr);
    std::map<std::pair<Kind, std::string>, Row> rows;
    const Take take = [&](Case&& made) {
        Row& row = rows[{made.kind, made.group}];
        ++row.cases;
        bool met = false;
        for (const Heard& heard : hear(made)) {
            const bool first = std::abs(heard.tap.onset_s() - made.at_s) < 0.03;
            features.add(made, first, heard);
            if (made.kind == Kind::disturbance) {
                // Any tap accepted at all is one too many.
                row.accepted += heard.accepted ? 1 : 0;
                if (!heard.accepted)
                    ++row.refused[heard.why];
            } else if (first && !met) {
                met = true;
                row.accepted += heard.accepted ? 1 : 0;
                row.as_twice += heard.why == "struck_twice" ? 1 : 0;
                if (!heard.accepted)
                    ++row.refused[heard.why];
            }
        }
        if (!met && made.kind != Kind::disturbance)
            ++row.refused["not heard"];
    };
    recorded(argc > 3 ? argv[3] : "", seed, take);
    made(detection::Speakers(42, seed), seed, each, take);
    std::printf("Seed %llu.\n", static_cast<unsigned long long>(seed));
    print("Strikes", Kind::strike, rows);
    print("Struck twice", Kind::twice, rows);
    print("Disturbances: taps accepted", Kind::disturbance, rows);
    print("What rings, and is no plate", Kind::other, rows);
}
