#include "main/question.hpp"

#include "bench/session/session_names.hpp"

namespace platewright::cli {

trends::Question question_on(const ledger::PlateHistory& history,
                             const trends::Comparison* comparison) {
    trends::Question question{.history = &history, .comparison = comparison};
    if (history.sessions.empty())
        return question;
    question.session = history.sessions.size() - 1;
    const ledger::SessionHistory& newest = history.sessions.back();
    std::vector<modes::Mode> found;
    for (const ledger::ModeRecord& mode : newest.modes)
        found.push_back(mode.mode);
    question.ask_spot = bench::name_session(history, newest, found).doubt.ask_spot;
    return question;
}

} // namespace platewright::cli
