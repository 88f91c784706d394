#include "trends/mass_check.hpp"

#include "base/clock.hpp"
#include "wording/say.hpp"

#include <cstdlib>

namespace platewright::trends {
namespace {

using wording::figure;
using wording::say;

constexpr double k_farthest_times = 4.0;

struct Bounds {
    double least_g = 0.0, most_g = 0.0;
};

/// A rough-sawn wedge is the heaviest plate; nothing where the kind says nothing.
std::optional<Bounds> bounds_of(modes::InstrumentKind kind, modes::Part part) {
    const bool is_body = part == modes::Part::body;
    switch (kind) {
    case modes::InstrumentKind::violin:
        return is_body ? Bounds{150, 1500} : Bounds{20, 1200};
    case modes::InstrumentKind::viola:
        return is_body ? Bounds{200, 2000} : Bounds{25, 1800};
    case modes::InstrumentKind::cello:
        return is_body ? Bounds{1000, 5000} : Bounds{100, 5000};
    case modes::InstrumentKind::other:
        break;
    }
    return std::nullopt;
}

/// Another weighed session of the plate, the nearest in time.
const ledger::SessionRecord* nearest_weighed(const ledger::SessionRecord& session,
                                             const ledger::PlateHistory& history) {
    const ledger::SessionRecord* nearest = nullptr;
    const auto away = [&](const ledger::SessionRecord& other) {
        return std::abs(other.begun.ms_since_epoch - session.begun.ms_since_epoch);
    };
    for (const ledger::SessionHistory& one : history.sessions)
        if (one.session.id != session.id && one.session.mass_g &&
            (!nearest || away(one.session) < away(*nearest)))
            nearest = &one.session;
    return nearest;
}

} // namespace

std::optional<base::Fault> fault_in_mass(const ledger::SessionRecord& session,
                                         const ledger::PlateHistory& history) {
    if (!session.mass_g)
        return std::nullopt;
    const double grams = *session.mass_g;
    const auto bounds = bounds_of(history.instrument.kind, history.plate.part);
    if (bounds && (grams < bounds->least_g || grams > bounds->most_g))
        return base::Fault{
            say("{} g can't be the mass of such a plate or body ({} to {} g): is a digit or "
                "the decimal mark wrong? Nothing was stored.",
                figure(grams, 1), figure(bounds->least_g, 0), figure(bounds->most_g, 0))};
    const auto* other = nearest_weighed(session, history);
    if (!other)
        return std::nullopt;
    const double times = grams / *other->mass_g;
    if (times < k_farthest_times && times > 1.0 / k_farthest_times)
        return std::nullopt;
    return base::Fault{
        say("{} g can't be this plate: it weighed {} g on {}. Is a digit or the decimal "
            "mark wrong? Nothing was stored.",
            figure(grams, 1), figure(*other->mass_g, 1), base::local_date(other->begun))};
}

} // namespace platewright::trends
