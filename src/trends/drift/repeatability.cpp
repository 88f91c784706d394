#include "trends/drift/repeatability.hpp"

#include "base/interval.hpp"
#include "base/stats.hpp"
#include "wording/say.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

namespace platewright::trends {

double session_sd_hz(const modes::Mode& mode) {
    return std::hypot(mode.frequency_sd_hz, k_hold_share * mode.frequency_hz);
}

Level level_of(const modes::Mode& mode) { return {mode.frequency_hz, session_sd_hz(mode)}; }

bool is_at(double goal_hz, const Level& level) {
    return level.hz <= goal_hz + base::plus_minus(level.sd_hz);
}

double difference_sd_hz(const modes::Mode& a, const modes::Mode& b) {
    return std::hypot(session_sd_hz(a), session_sd_hz(b));
}

const modes::Partial* partial_of(std::span<const modes::Partial> tap, const modes::Mode& mode) {
    constexpr double near = 0.03;
    const modes::Partial* nearest = nullptr;
    for (const modes::Partial& partial : tap) {
        const double away = std::abs(partial.frequency_hz / mode.frequency_hz - 1);
        if (away < near &&
            (nearest == nullptr || away < std::abs(nearest->frequency_hz / mode.frequency_hz - 1)))
            nearest = &partial;
    }
    return nearest;
}

namespace {

using wording::say;

constexpr int k_fewest_taps = 3;
constexpr double k_widest_spread = 0.01;

std::string mode_words(const ledger::ModeRecord& record) {
    return record.name ? modes::mode_text(record.name->number)
                       : say("the mode at {} Hz", wording::figure(record.mode.frequency_hz, 0));
}

} // namespace

std::string unfit_to_compare(const ledger::SessionHistory& session, Whose whose) {
    const std::string_view which =
        whose == Whose::this_session ? say("this session") : say("the reference");
    if (session.modes.empty())
        return say("No modes have been found in {} yet: tap it a few times.", which);
    int most_taps = 0;
    std::vector<double> spreads;
    for (const ledger::ModeRecord& record : session.modes) {
        most_taps = std::max(most_taps, record.mode.taps);
        if (record.mode.taps > 1)
            spreads.push_back(record.mode.spread_hz / record.mode.frequency_hz);
    }
    if (most_taps < k_fewest_taps)
        return say("Too few taps in {} to say how sure its figures are: take at least {}.", which,
                   k_fewest_taps);
    const double spread = spreads.empty() ? 0.0 : base::median(spreads);
    if (spread > k_widest_spread)
        return say("The taps of {} differ by {} %, too widely to compare: hang or hold the plate "
                   "at a node and tap again.",
                   which, wording::figure(100.0 * spread, 1));
    return {};
}

std::string why_apart(const ledger::SessionHistory& session, std::size_t tap) {
    const ledger::ModeRecord* furthest = nullptr;
    double away_hz = 0, most = 0;
    for (const ledger::ModeRecord& record : session.modes) {
        const modes::Partial* here = partial_of(session.taps[tap].partials, record.mode);
        std::vector<double> others;
        for (std::size_t i = 0; i < session.taps.size(); ++i)
            if (const modes::Partial* p = partial_of(session.taps[i].partials, record.mode);
                p != nullptr && i != tap)
                others.push_back(p->frequency_hz);
        if (here == nullptr || others.size() < 3)
            continue;
        const double away = here->frequency_hz - base::median(others);
        const double scale = std::hypot(base::robust_deviation(others), here->frequency_sd_hz);
        if (scale > 0 && std::abs(away) / scale > most) {
            most = std::abs(away) / scale;
            away_hz = away;
            furthest = &record;
        }
    }
    if (furthest == nullptr)
        return {};
    return say("Tap {} stands apart: {} lies {} Hz {} there than in the others. If the hold "
               "slipped, take it back.",
               tap + 1, mode_words(*furthest), wording::figure(std::abs(away_hz), 1),
               away_hz < 0 ? say("lower") : say("higher"));
}

} // namespace platewright::trends
