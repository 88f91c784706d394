#include "modes/name/name.hpp"

#include "modes/name/doubt.hpp"
#include "modes/name/expectation.hpp"
#include "modes/name/log_normal.hpp"
#include "modes/name/recollection.hpp"
#include "modes/name/rules.hpp"

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

/// What such things in general and this one's own past say together.
double log_weight_of(const Mode& mode, int name, const Rules& rules,
                     std::span<const Recollection> memories) {
    const double general = rules.log_evidence(mode, name);
    for (const Recollection& memory : memories) {
        if (memory.name == name) {
            return log_mixture(memory.sure, log_likeness(mode, memory), general) -
                   log_other(mode, memory);
        }
    }
    return general;
}

std::vector<Contender> contenders(std::span<const Mode> modes, int name, const Rules& rules,
                                  std::span<const Recollection> memories) {
    std::vector<Contender> list;
    for (std::size_t i = 0; i < modes.size(); ++i) {
        list.push_back({static_cast<long>(i), log_weight_of(modes[i], name, rules, memories)});
    }
    std::sort(list.begin(), list.end(),
              [](const Contender& a, const Contender& b) { return a.log_weight > b.log_weight; });
    if (list.size() > k_shortlist)
        list.resize(k_shortlist);
    list.push_back({-1, rules.log_missing(name)});
    return list;
}

/// One way to give the names to modes, or to none.
struct Way {
    std::vector<long> chosen; // by name; -1: not found
    double log_weight = 0.0;
};

/// All of them, no mode bearing two names.
std::vector<Way> all_ways(std::span<const Mode> modes, const Rules& rules,
                          std::span<const Recollection> memories) {
    std::vector<Way> ways{Way{}};
    for (const int name : rules.names) {
        std::vector<Way> longer;
        for (const Contender& next : contenders(modes, name, rules, memories)) {
            for (const Way& way : ways) {
                const bool shared =
                    std::find(way.chosen.begin(), way.chosen.end(), next.mode) != way.chosen.end();
                if (next.mode >= 0 && shared)
                    continue;
                longer.push_back(way);
                longer.back().chosen.push_back(next.mode);
                longer.back().log_weight += next.log_weight;
            }
        }
        ways = std::move(longer);
    }
    std::vector<std::optional<double>> log_hz(rules.names.size());
    for (Way& way : ways) {
        for (std::size_t k = 0; k < log_hz.size(); ++k) {
            log_hz[k].reset();
            if (way.chosen[k] >= 0)
                log_hz[k] = std::log(modes[static_cast<std::size_t>(way.chosen[k])].frequency_hz);
        }
        way.log_weight += rules.log_ratios(log_hz);
    }
    return ways;
}

/// Sums the weights of all ways.
NameOdds joint_odds(std::span<const Mode> modes, const Rules& rules,
                    std::span<const Recollection> memories) {
    const std::vector<Way> ways = all_ways(modes, rules, memories);
    const auto lighter = [](const Way& a, const Way& b) { return a.log_weight < b.log_weight; };
    const double top = std::max_element(ways.begin(), ways.end(), lighter)->log_weight;
    double total = 0.0;
    for (const Way& way : ways)
        total += std::exp(way.log_weight - top);
    NameOdds odds;
    for (std::size_t k = 0; k < rules.names.size(); ++k) {
        NameOdds::One& one = odds.by_name[rules.names[k]];
        one.of_mode.assign(modes.size(), 0.0);
        for (const Way& way : ways) {
            const double share = std::exp(way.log_weight - top) / total;
            if (way.chosen[k] < 0) {
                one.missing += share;
            } else {
                one.of_mode[static_cast<std::size_t>(way.chosen[k])] += share;
            }
        }
    }
    return odds;
}

/// Names that no rule knows live on only where an earlier session bore them.
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

} // namespace

Naming name_modes(std::span<const Mode> modes, const Subject& subject,
                  std::span<const Earlier> earlier, std::span<const SpotProfile> profiles) {
    Naming naming;
    for (const Mode& mode : modes)
        naming.modes.push_back({mode, std::nullopt});
    if (modes.empty())
        return naming;
    const std::vector<Recollection> memories = recollect(modes, subject, earlier);
    const Rules rules =
        subject.part == Part::body ? body_rules(subject) : plate_rules(modes, subject, profiles);
    const NameOdds odds = joint_odds(modes, rules, memories);
    for (const auto& [name, one] : odds.by_name) {
        const auto best = std::max_element(one.of_mode.begin(), one.of_mode.end());
        if (*best < k_given)
            continue;
        naming.modes[static_cast<std::size_t>(best - one.of_mode.begin())].name =
            ModeName{name, std::min(*best, 0.999), false};
    }
    for (const Recollection& memory : memories) {
        if (!odds.by_name.contains(memory.name))
            name_from_memory(naming.modes, modes, memory);
    }
    naming.doubt = greatest_doubt(modes, odds, rules.to_settle);
    return naming;
}

} // namespace platewright::modes
