#include "screen/view_context.hpp"

#include <algorithm>

namespace platewright::screen {

const ledger::SessionHistory* ViewContext::session() const {
    if (!now.plate || now.plate->session == 0) {
        return nullptr;
    }
    const auto& sessions = now.plate->history.sessions;
    const auto open = index_of(sessions, now.plate->session);
    return open ? &sessions[*open] : nullptr;
}

std::optional<std::size_t> index_of(const std::vector<ledger::SessionHistory>& sessions,
                                    ledger::Id id) {
    const auto found =
        std::ranges::find(sessions, id, [](const auto& one) { return one.session.id; });
    return found == sessions.end()
               ? std::nullopt
               : std::optional(static_cast<std::size_t>(found - sessions.begin()));
}

std::string air_words(const trends::Air& air) {
    return say("{} °C, {} % humidity", figure(air.temperature_c, 1), figure(air.humidity_pct, 0));
}

int ViewContext::good_taps() const {
    const ledger::SessionHistory* on_bench = session();
    return on_bench == nullptr ? 0
                               : static_cast<int>(std::ranges::count_if(
                                     on_bench->taps, taps::counts, &ledger::TapRecord::verdict));
}

} // namespace platewright::screen
