#include "bench/session/session_names.hpp"

#include "modes/estimate/fit.hpp"
#include "trends/air/in_air.hpp"

#include <algorithm>
#include <cmath>

namespace platewright::bench {
namespace {

modes::Subject subject_of(const ledger::PlateHistory& history,
                          const ledger::SessionRecord& session) {
    return {history.instrument.kind, history.plate.part, session.stage, session.mass_g,
            history.instrument.body_length_mm};
}

/// `before`: the session's modes with the maker's words on them.
void keep_makers_names(modes::Naming& naming, const std::vector<ledger::ModeRecord>& before) {
    constexpr double near = 0.02;
    std::vector<modes::NamedMode>& modes = naming.modes;
    for (const ledger::ModeRecord& record : before) {
        if (!record.name || !record.name->by_maker)
            continue;
        const auto nearest =
            std::min_element(modes.begin(), modes.end(), [&](const auto& a, const auto& b) {
                return std::abs(a.mode.frequency_hz - record.mode.frequency_hz) <
                       std::abs(b.mode.frequency_hz - record.mode.frequency_hz);
            });
        if (nearest == modes.end() ||
            std::abs(nearest->mode.frequency_hz / record.mode.frequency_hz - 1) > near)
            continue;
        for (modes::NamedMode& mode : modes)
            if (mode.name && mode.name->number == record.name->number)
                mode.name.reset();
        nearest->name = record.name;
        if (record.name->number == naming.doubt.name)
            naming.doubt = {};
    }
}

modes::Naming named(const ledger::PlateHistory& history, const ledger::SessionHistory& session,
                    const std::vector<modes::Mode>& found, trends::EarlierSessions& earlier,
                    std::span<const modes::SpotProfile> profiles) {
    modes::Naming naming = modes::name_modes(found, subject_of(history, session.session),
                                             earlier.seen_from(session.session), profiles);
    keep_makers_names(naming, session.modes);
    return naming;
}

} // namespace

modes::Naming name_session(const ledger::PlateHistory& history,
                           const ledger::SessionHistory& session,
                           const std::vector<modes::Mode>& found,
                           std::span<const modes::SpotProfile> profiles) {
    trends::EarlierSessions earlier;
    for (const ledger::SessionHistory& one : history.sessions) {
        if (one.session.id == session.session.id)
            break;
        earlier.add(one);
    }
    return named(history, session, found, earlier, profiles);
}

bool name_all_anew(ledger::PlateHistory& history, std::span<const modes::SpotProfile> profiles) {
    trends::EarlierSessions earlier;
    bool changed = false;
    for (ledger::SessionHistory& one : history.sessions) {
        if (!one.modes.empty()) {
            std::vector<modes::Mode> found;
            for (const ledger::ModeRecord& record : one.modes)
                found.push_back(record.mode);
            const modes::Naming naming = named(history, one, found, earlier, profiles);
            for (std::size_t i = 0; i < one.modes.size(); ++i) {
                changed |= one.modes[i].name != naming.modes[i].name;
                one.modes[i].name = naming.modes[i].name;
            }
        }
        earlier.add(one);
    }
    return changed;
}

std::vector<ledger::ModeRecord> mode_records(ledger::Id session,
                                             const std::vector<modes::NamedMode>& modes) {
    std::vector<ledger::ModeRecord> records;
    for (const modes::NamedMode& mode : modes)
        records.push_back({.id = 0,
                           .session = session,
                           .analysis_version = std::string(platewright::modes::k_analysis_version),
                           .mode = mode.mode,
                           .name = mode.name});
    return records;
}

} // namespace platewright::bench
