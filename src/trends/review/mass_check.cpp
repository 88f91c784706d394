#include "trends/review/mass_check.hpp"

#include "base/clock.hpp"
#include "trends/track/track.hpp"
#include "wording/say.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>

namespace platewright::trends {
namespace {

using wording::figure;
using wording::say;

constexpr double k_farthest_times = 4.0;

/// What plates of a kind weigh at the least, at the most while they are graduated, and at the most
/// as they come from the saw: a rough wedge is the heaviest. Common practice, no source; wide
/// enough for small sizes and thick wedges, narrow enough for a lost decimal mark.
struct Bounds {
    modes::InstrumentKind kind;
    modes::Part part;
    double least_g, most_g, most_rough_g;
};
using enum modes::InstrumentKind;
using enum modes::Part;
constexpr std::array k_bounds{
    Bounds{violin, top, 20, 350, 900},           Bounds{violin, back, 25, 450, 1000},
    Bounds{violin, body, 150, 1500, 1500},       Bounds{viola, top, 25, 550, 1300},
    Bounds{viola, back, 30, 700, 1500},          Bounds{viola, body, 200, 2000, 2000},
    Bounds{cello, top, 100, 2200, 6000},         Bounds{cello, back, 120, 3000, 9000},
    Bounds{cello, body, 1000, 5000, 5000},       Bounds{double_bass, top, 400, 5000, 15000},
    Bounds{double_bass, back, 400, 6000, 20000}, Bounds{double_bass, body, 3000, 15000, 15000},
};

/// Nothing where the kind says nothing.
const Bounds* bounds_of(modes::InstrumentKind kind, modes::Part part) {
    const auto found = std::ranges::find_if(
        k_bounds, [&](const Bounds& b) { return b.kind == kind && b.part == part; });
    return found == k_bounds.end() ? nullptr : &*found;
}

/// What a bar weighs as it is glued in, before it is trimmed, in g (common practice, no source).
double bar_g(modes::InstrumentKind kind) {
    return kind == double_bass ? 300.0 : kind == cello ? 90.0 : kind == viola ? 20.0 : 15.0;
}

/// What a plate can gain from one session to a later one: damp air, glue, a patch, varnish; a bar.
/// `share` and `grams`: how far the question goes, to remark or to refuse.
double can_gain_g(const ledger::PlateHistory& history, const ledger::SessionRecord& before,
                  const ledger::SessionRecord& after, double share, double grams) {
    const auto shape = [&](const ledger::SessionRecord& session) {
        return shape_of(history.plate.part, session.stage);
    };
    return grams + share * *before.mass_g +
           (shape(before) != shape(after) ? bar_g(history.instrument.kind) : 0.0);
}

bool is_wood_only(const ledger::PlateHistory& history) {
    return history.plate.part != body; // a body is fitted up, and gains a neck
}

/// Another weighed session of the plate, the nearest in time; `which` side of it.
enum class Side { either, before, after };
const ledger::SessionRecord* nearest_weighed(const ledger::SessionRecord& session,
                                             const ledger::PlateHistory& history, Side side) {
    const ledger::SessionRecord* nearest = nullptr;
    const auto away = [&](const ledger::SessionRecord& other) {
        return std::abs(other.begun.ms_since_epoch - session.begun.ms_since_epoch);
    };
    for (const ledger::SessionHistory& one : history.sessions) {
        const bool is_before = one.session.begun <= session.begun;
        const bool is_there = side == Side::either || (side == Side::before) == is_before;
        if (is_there && one.session.id != session.id && one.session.mass_g &&
            (!nearest || away(one.session) < away(*nearest)))
            nearest = &one.session;
    }
    return nearest;
}

std::optional<base::Fault> fault_in_gain(const ledger::PlateHistory& history,
                                         const ledger::SessionRecord& before,
                                         const ledger::SessionRecord& after,
                                         const ledger::SessionRecord& asked) {
    constexpr double k_share = 0.10, k_grams = 4.0; // beyond what any patch weighs
    const double gained = *after.mass_g - *before.mass_g;
    if (gained <= can_gain_g(history, before, after, k_share, k_grams))
        return std::nullopt;
    const ledger::SessionRecord& other = &asked == &before ? after : before;
    return base::Fault{
        say("{} g can't be right beside the {} g of {}: the plate would have gained {} g between "
            "them. Is a digit wrong, here or there? Nothing was stored.",
            figure(*asked.mass_g, 1), figure(*other.mass_g, 1), base::local_date(other.begun),
            figure(gained, 1))};
}

} // namespace

std::optional<base::Fault> fault_in_mass(const ledger::SessionRecord& session,
                                         const ledger::PlateHistory& history) {
    if (!session.mass_g)
        return std::nullopt;
    const double grams = *session.mass_g;
    if (const Bounds* bounds = bounds_of(history.instrument.kind, history.plate.part)) {
        const double most =
            session.stage == modes::Stage::rough ? bounds->most_rough_g : bounds->most_g;
        if (grams < bounds->least_g || grams > most)
            return base::Fault{say("{} g can't be the mass of such a plate or body ({} to {} g): "
                                   "is a digit or the decimal mark wrong? Nothing was stored.",
                                   figure(grams, 1), figure(bounds->least_g, 0), figure(most, 0))};
    }
    if (const auto* other = nearest_weighed(session, history, Side::either)) {
        const double times = grams / *other->mass_g;
        if (times >= k_farthest_times || times <= 1.0 / k_farthest_times)
            return base::Fault{say("{} g can't be this plate: it weighed {} g on {}. Is a digit or "
                                   "the decimal mark wrong? Nothing was stored.",
                                   figure(grams, 1), figure(*other->mass_g, 1),
                                   base::local_date(other->begun))};
    }
    if (!is_wood_only(history))
        return std::nullopt;
    if (const auto* before = nearest_weighed(session, history, Side::before))
        if (auto fault = fault_in_gain(history, *before, session, session))
            return fault;
    if (const auto* after = nearest_weighed(session, history, Side::after))
        return fault_in_gain(history, session, *after, session);
    return std::nullopt;
}

std::vector<std::string> remarks_on_masses(const ledger::PlateHistory& history) {
    std::vector<std::string> said;
    if (!is_wood_only(history))
        return said;
    constexpr double k_share = 0.02, k_grams = 1.5;
    const ledger::SessionRecord* before = nullptr;
    for (const ledger::SessionHistory& one : history.sessions) {
        const ledger::SessionRecord& session = one.session;
        if (!session.mass_g)
            continue;
        if (before) {
            const double gained = *session.mass_g - *before->mass_g;
            if (gained > can_gain_g(history, *before, session, k_share, k_grams))
                said.push_back(say("The plate gained {} g between {} and {}, more than damp air, a "
                                   "bar or varnish explain: is a mass mistyped?",
                                   figure(gained, 1), base::local_date(before->begun),
                                   base::local_date(session.begun)));
        }
        before = &session;
    }
    return said;
}

} // namespace platewright::trends
