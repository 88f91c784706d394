#include "screen/carve/study_asked.hpp"

#include <algorithm>

namespace platewright::screen {
namespace {

std::size_t open_session(const bench::PlateView& plate) {
    const auto& sessions = plate.history.sessions;
    const auto open = std::find_if(sessions.begin(), sessions.end(),
                                   [&](const auto& s) { return s.session.id == plate.session; });
    return open == sessions.end() ? sessions.size() - 1
                                  : static_cast<std::size_t>(open - sessions.begin());
}

} // namespace

void StudyAsked::keep(const ViewContext& context) {
    if (asked_for_ == context.now.plate || context.now.plate->history.sessions.empty()) {
        return;
    }
    asked_for_ = context.now.plate;
    bench::StudyInputs inputs =
        bench::inputs_of(context.now.plate->history, open_session(*context.now.plate));
    const bool is_there = context.now.work && context.now.work->of == inputs;
    if (is_there &&
        (inputs == inputs_ || context.now.work->study || !context.now.work->doing.empty())) {
        inputs_ = std::move(inputs);
        return;
    }
    inputs_ = std::move(inputs);
    context.send(bench::command::StudyPlate{});
}

void StudyAsked::again() {
    asked_for_.reset();
    inputs_.reset();
}

} // namespace platewright::screen
