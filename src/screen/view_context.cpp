#include "screen/view_context.hpp"

#include <algorithm>

namespace platewright::screen {

const ledger::SessionHistory* ViewContext::session() const {
    return now.plate && now.plate->session != 0
               ? ledger::session_in(now.plate->history.sessions, now.plate->session)
               : nullptr;
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
