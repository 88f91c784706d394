#include "bench/session_names.hpp"

#include <algorithm>
#include <cmath>

#include "modes/fit.hpp"

namespace platewright::bench {
namespace {

modes::Subject subject_of(const ledger::PlateHistory& history, const ledger::SessionRecord& session) {
    return {history.instrument.kind, history.plate.part, session.stage, session.mass_g};
}

std::vector<modes::Earlier> earlier_sessions(const ledger::PlateHistory& history, ledger::Id before) {
    std::vector<modes::Earlier> earlier;
    for (const ledger::SessionHistory& session : history.sessions) {
        if (session.session.id == before)
            break;
        modes::Earlier one{.modes = {}, .stage = session.session.stage, .mass_g = session.session.mass_g};
        for (const ledger::ModeRecord& record : session.modes)
            one.modes.push_back({record.mode, record.name});
        if (!one.modes.empty())
            earlier.push_back(std::move(one));
    }
    return earlier;
}

} // namespace

modes::Naming name_session(const ledger::PlateHistory& history, const ledger::SessionRecord& session,
                           const std::vector<modes::Mode>& found, std::span<const modes::SpotProfile> profiles) {
    return modes::name_modes(found, subject_of(history, session), earlier_sessions(history, session.id), profiles);
}

void keep_makers_names(std::vector<modes::NamedMode>& modes, const std::vector<ledger::ModeRecord>& before) {
    constexpr double near = 0.02;
    for (const ledger::ModeRecord& record : before) {
        if (!record.name || !record.name->by_maker)
            continue;
        const auto nearest = std::min_element(modes.begin(), modes.end(), [&](const auto& a, const auto& b) {
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
    }
}

std::vector<ledger::ModeRecord> mode_records(ledger::Id session, const std::vector<modes::NamedMode>& modes) {
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
