#include "modes/name.hpp"

#include "modes/doubt.hpp"
#include "modes/expectation.hpp"
#include "modes/log_normal.hpp"
#include "modes/recollection.hpp"

#include <algorithm>
#include <cmath>

namespace platewright::modes {
namespace {

constexpr double k_given = 0.8;        // a name is given from here on
constexpr std::size_t k_shortlist = 8; // modes looked at for each name

/// A mode's log-evidence for one name.
struct Contender {
    long mode = -1; // -1: the mode was not found
    double log_weight = 0;
};

/// What plates in general and this plate's past say together.
double log_weight_of(const Mode& mode, int name, const Subject& subject,
                     std::span<const Recollection> memories,
                     std::span<const SpotProfile> profiles) {
    const double general = log_evidence(mode, name, subject, profiles);
    for (const Recollection& memory : memories) {
        if (memory.name == name) {
            return log_mixture(memory.sure, log_likeness(mode, memory), general);
        }
    }
    return general;
}

std::vector<Contender> contenders(std::span<const Mode> modes, int name, const Subject& subject,
                                  std::span<const Recollection> memories,
                                  std::span<const SpotProfile> profiles) {
    std::vector<Contender> list;
    for (std::size_t i = 0; i < modes.size(); ++i) {
        list.push_back({static_cast<long>(i), log_weight_of(modes[i], name, subject, memories, profiles)});
    }
    std::sort(list.begin(), list.end(),
              [](const Contender& a, const Contender& b) { return a.log_weight > b.log_weight; });
    if (list.size() > k_shortlist)
        list.resize(k_shortlist);
    list.push_back({-1, log_missing(name, modes)});
    return list;
}

double log_belief(double x, const LogBelief& belief) {
    const double z = (x - belief.centre) / belief.sd;
    return -0.5 * std::min(z * z, 30.0);
}

/// Order and ratios of the modes taken for 1, 2 and 5.
double log_ratios(std::span<const Mode> modes, const std::array<long, 3>& chosen,
                  const Subject& subject) {
    const auto log_hz = [&](long i) {
        return std::log(modes[static_cast<std::size_t>(i)].frequency_hz);
    };
    // Against a ratio spread evenly over an octave and a half: normalised by the belief's height.
    const auto against_any = [](double x, const LogBelief& belief) {
        return log_belief(x, belief) - std::log(belief.sd * 2.5066 / 1.0);
    };
    double sum = 0.0;
    if (chosen[0] >= 0 && chosen[1] >= 0) {
        sum += against_any(log_hz(chosen[1]) - log_hz(chosen[0]), expected_ratio_2_to_1(subject));
    }
    if (chosen[1] >= 0 && chosen[2] >= 0) {
        sum += against_any(log_hz(chosen[2]) - log_hz(chosen[1]), expected_ratio_5_to_2());
    }
    return sum;
}

bool any_shared(const std::array<long, 3>& chosen) {
    return (chosen[0] >= 0 && (chosen[0] == chosen[1] || chosen[0] == chosen[2])) ||
           (chosen[1] >= 0 && chosen[1] == chosen[2]);
}

/// Sums the weights of all ways to give the three names to modes, or to none.
NameOdds joint_odds(std::span<const Mode> modes, const Subject& subject,
                    std::span<const Recollection> memories,
                    std::span<const SpotProfile> profiles) {
    std::array<std::vector<Contender>, 3> lists;
    for (std::size_t k = 0; k < 3; ++k) {
        lists[k] = contenders(modes, k_known_names[k], subject, memories, profiles);
    }
    struct Way {
        std::array<long, 3> chosen;
        double log_weight;
    };
    std::vector<Way> ways;
    for (const Contender& one : lists[0]) {
        for (const Contender& two : lists[1]) {
            for (const Contender& five : lists[2]) {
                const std::array<long, 3> chosen{one.mode, two.mode, five.mode};
                if (any_shared(chosen))
                    continue;
                ways.push_back({chosen, one.log_weight + two.log_weight + five.log_weight +
                                            log_ratios(modes, chosen, subject)});
            }
        }
    }
    const auto lighter = [](const Way& a, const Way& b) { return a.log_weight < b.log_weight; };
    const double top = std::max_element(ways.begin(), ways.end(), lighter)->log_weight;
    NameOdds odds;
    double total = 0.0;
    for (const Way& way : ways)
        total += std::exp(way.log_weight - top);
    for (std::size_t k = 0; k < 3; ++k) {
        odds.of_mode[k].assign(modes.size(), 0.0);
        for (const Way& way : ways) {
            const double share = std::exp(way.log_weight - top) / total;
            if (way.chosen[k] < 0) {
                odds.missing[k] += share;
            } else {
                odds.of_mode[k][static_cast<std::size_t>(way.chosen[k])] += share;
            }
        }
    }
    return odds;
}

/// Names other than 1, 2, 5 live on only where an earlier session bore them.
void name_from_memory(std::vector<NamedMode>& named, std::span<const Mode> modes,
                      const Recollection& memory) {
    double total = std::exp(log_missing(memory.name, modes));
    double most = 0.0;
    std::size_t best = 0;
    for (std::size_t i = 0; i < modes.size(); ++i) {
        if (named[i].name)
            continue;
        const double weight = std::exp(log_likeness(modes[i], memory));
        total += weight;
        if (weight > most) {
            most = weight;
            best = i;
        }
    }
    const double confidence = memory.sure * most / total;
    if (confidence < k_given)
        return;
    named[best].name = ModeName{memory.name, std::min(confidence, 0.999), false};
}

bool is_generally_known(int name) {
    return std::find(k_known_names.begin(), k_known_names.end(), name) != k_known_names.end();
}

} // namespace

Naming name_modes(std::span<const Mode> modes, const Subject& subject,
                  std::span<const Earlier> earlier, std::span<const SpotProfile> profiles) {
    Naming naming;
    for (const Mode& mode : modes)
        naming.modes.push_back({mode, std::nullopt});
    if (modes.empty())
        return naming;
    const std::vector<Recollection> memories = recollect(modes, subject, earlier);
    const NameOdds odds = joint_odds(modes, subject, memories, profiles);
    for (std::size_t k = 0; k < 3; ++k) {
        const auto best = std::max_element(odds.of_mode[k].begin(), odds.of_mode[k].end());
        if (*best < k_given)
            continue;
        naming.modes[static_cast<std::size_t>(best - odds.of_mode[k].begin())].name =
            ModeName{k_known_names[k], std::min(*best, 0.999), false};
    }
    for (const Recollection& memory : memories) {
        if (!is_generally_known(memory.name))
            name_from_memory(naming.modes, modes, memory);
    }
    const Doubt doubt = greatest_doubt(modes, odds);
    naming.doubt = doubt.sentence;
    naming.ask_spot = doubt.ask_spot;
    return naming;
}

} // namespace platewright::modes
