#include "main/find/find_session.hpp"

#include "base/clock.hpp"

#include <fmt/format.h>

namespace platewright::cli {

base::Result<std::size_t> find_session(const ledger::PlateHistory& history,
                                       const std::string& name) {
    if (history.sessions.empty())
        return base::Fault{
            fmt::format("“{}” has no session yet: `platewright enter --plate \"{}\"` begins one.",
                        history.plate.label, history.plate.label)};
    if (name.empty())
        return history.sessions.size() - 1;
    const auto day = base::from_typed(name);
    std::vector<std::size_t> found;
    std::string known;
    for (std::size_t i = 0; i < history.sessions.size(); ++i) {
        const ledger::SessionRecord& session = history.sessions[i].session;
        const std::string date = base::local_date(session.begun),
                          number = std::to_string(session.id);
        if ((day && base::local_date(*day) == date) || name == number)
            found.push_back(i);
        known += fmt::format("{}{} ({})", known.empty() ? "" : ", ", number, date);
    }
    if (found.size() == 1)
        return found.front();
    if (found.empty())
        return base::Fault{fmt::format("No session of “{}” is “{}”; there are {}.",
                                       history.plate.label, name, known)};
    return base::Fault{
        fmt::format("“{}” may mean several sessions: name one by its number, {}.", name, known)};
}

} // namespace platewright::cli
