#include "trends/wood/wood_taps.hpp"

#include "base/text.hpp"
#include "plate/wood/bar.hpp"
#include "plate/wood/board.hpp"
#include "trends/wood/wood_figures.hpp"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace platewright::trends {
namespace {

using ledger::WoodMotion;

constexpr double k_pointed_at = 0.02; // of a frequency the maker points at
constexpr double k_given = 0.8;
constexpr double k_spread = 0.12;       // of ln f from tree to tree: half of ln E's, and the cut's
constexpr double k_typed_share = 0.002; // how exactly a typed frequency is taken to be known

struct Expected {
    WoodMotion motion;
    double hz;
};

// Bendings that such a piece is tapped for, by the handbook's wood.
void expect_bending(const ledger::WoodTestRecord& r, const plate::Wood& wood,
                    std::vector<Expected>& all) {
    const double mass =
        r.mass_g.value_or(1e-6 * wood.density_kg_m3 * r.along_mm * r.across_mm * r.thickness_mm);
    if (is_bar(r.along_mm, r.across_mm)) {
        all.push_back({WoodMotion::along,
                       plate::wood_bar_frequency_hz({r.along_mm, r.across_mm, r.thickness_mm, mass},
                                                    wood.e_l_gpa, wood.e_l_gpa / wood.g_lt_gpa)});
    } else if (is_bar(r.across_mm, r.along_mm)) {
        all.push_back({WoodMotion::across,
                       plate::wood_bar_frequency_hz({r.across_mm, r.along_mm, r.thickness_mm, mass},
                                                    wood.e_r_gpa, wood.e_r_gpa / wood.g_rt_gpa)});
    } else {
        const Eigen::Vector3d hz =
            plate::board_frequencies_hz({r.along_mm, r.across_mm, r.thickness_mm, mass}, wood);
        const std::array motions{WoodMotion::along, WoodMotion::across, WoodMotion::twist};
        for (std::size_t k = 0; k < 3; ++k)
            if (const double f = hz[static_cast<Eigen::Index>(k)]; f > 0.0)
                all.push_back({motions[k], f});
    }
}

std::vector<Expected> expected_motions(const ledger::WoodTestRecord& r, const plate::Wood& wood) {
    std::vector<Expected> all;
    const bool even = !r.thin_edge_mm || *r.thin_edge_mm == r.thickness_mm;
    if (even && (r.piece == ledger::Piece::bar || r.piece == ledger::Piece::board))
        expect_bending(r, wood, all);
    const double density = r.mass_g
                               ? 1e6 * *r.mass_g / (r.along_mm * r.across_mm * mean_thickness_mm(r))
                               : wood.density_kg_m3;
    all.push_back(
        {WoodMotion::sound_along, std::sqrt(1e9 * wood.e_l_gpa / density) / (2e-3 * r.along_mm)});
    return all;
}

ledger::WoodModeRecord record_of(const modes::Mode& mode, WoodMotion motion,
                                 const std::string& version) {
    return {motion, mode.frequency_hz, std::max(mode.frequency_sd_hz, mode.spread_hz),
            mode.q, mode.q_sd,         mode.taps,
            version};
}

void obey(std::span<const modes::Mode> tapped, const TypedMotion& typed, const std::string& version,
          std::vector<bool>& taken, RecognisedMotions& found) {
    const auto away = [&](const modes::Mode& m) {
        return std::abs(std::log(m.frequency_hz / typed.frequency_hz));
    };
    const auto nearest = std::ranges::min_element(tapped, {}, away);
    if (nearest != tapped.end() && away(*nearest) < k_pointed_at) {
        taken[static_cast<std::size_t>(nearest - tapped.begin())] = true;
        found.modes.push_back(record_of(*nearest, typed.motion, version));
        return;
    }
    if (!tapped.empty())
        found.doubts.push_back(fmt::format("Nothing was tapped near {} Hz: {} is kept as typed.",
                                           base::fixed(typed.frequency_hz, 1),
                                           ledger::to_text(typed.motion)));
    found.modes.push_back(
        {typed.motion, typed.frequency_hz, k_typed_share * typed.frequency_hz, typed.q, {}, 0, {}});
}

void find_motion(std::span<const modes::Mode> tapped, const Expected& expected,
                 const std::string& version, std::vector<bool>& taken, RecognisedMotions& found) {
    double total = std::exp(-0.5 * 9.0) * 0.1, most = 0.0;
    std::size_t best = 0;
    for (std::size_t i = 0; i < tapped.size(); ++i) {
        if (taken[i])
            continue;
        const double z = std::log(tapped[i].frequency_hz / expected.hz) / k_spread;
        const double weight = std::exp(-0.5 * z * z) * std::pow(10.0, tapped[i].level_db / 20.0);
        total += weight;
        if (weight > most) {
            most = weight;
            best = i;
        }
    }
    if (most >= k_given * total) {
        taken[best] = true;
        found.modes.push_back(record_of(tapped[best], expected.motion, version));
    } else if (expected.motion != WoodMotion::sound_along) { // few pieces are tapped on end
        found.doubts.push_back(fmt::format("It is not sure which mode is {}; about {} Hz would be "
                                           "usual. Say it with --motion {}=HZ.",
                                           ledger::to_text(expected.motion),
                                           base::fixed(expected.hz, 0),
                                           ledger::to_word(expected.motion)));
    }
}

} // namespace

RecognisedMotions recognise(std::span<const modes::Mode> tapped, const ledger::WoodTestRecord& test,
                            const std::string& species, std::span<const TypedMotion> typed,
                            const std::string& analysis_version) {
    RecognisedMotions found;
    std::vector<bool> taken(tapped.size(), false);
    for (const TypedMotion& one : typed)
        obey(tapped, one, analysis_version, taken, found);
    if (tapped.empty())
        return found;
    for (const Expected& expected : expected_motions(test, handbook_wood(species))) {
        const bool said = std::ranges::any_of(
            typed, [&](const TypedMotion& t) { return t.motion == expected.motion; });
        if (!said)
            find_motion(tapped, expected, analysis_version, taken, found);
    }
    return found;
}

double highest_motion_hz(const ledger::WoodTestRecord& test) {
    constexpr double fastest_m_s = 6300, and_more = 1.1;
    return and_more * fastest_m_s / (2 * test.along_mm / 1000);
}

} // namespace platewright::trends
