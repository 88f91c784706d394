#include "screen/sight.hpp"

#include <algorithm>

namespace platewright::screen {

const ledger::SessionHistory* Sight::session() const {
    if (!now.plate || now.plate->session == 0) {
        return nullptr;
    }
    const auto& sessions = now.plate->history.sessions;
    const auto open = std::find_if(sessions.begin(), sessions.end(), [this](const auto& s) {
        return s.session.id == now.plate->session;
    });
    return open == sessions.end() ? nullptr : &*open;
}

} // namespace platewright::screen
