#include "base/clock.hpp"
#include "base/failure.hpp"
#include "bench/workbench.hpp"
#include "trends/model/plate_form.hpp"
#include "wording/say.hpp"

#include <algorithm>
#include <utility>

// The workbench's part in weighing a mode: a mass begun, heard, ended.

namespace platewright::bench {

using wording::say;

const ledger::WeighingRecord* Workbench::weighing() const {
    const ledger::SessionHistory* session = open_history();
    if (session == nullptr || weighing_ == 0)
        return nullptr;
    const auto found =
        std::ranges::find(session->weighings, weighing_, &ledger::WeighingRecord::id);
    return found == session->weighings.end() ? nullptr : &*found;
}

ledger::Id Workbench::begin_weighing(ledger::WeighingRecord weighing) {
    const ledger::SessionHistory* session = open_history();
    if (session == nullptr || !takes_taps())
        throw base::Failure(say("Begin a session and tap the plate bare first: a mass is weighed "
                                "against that. Nothing was stored."));
    const auto outline = trends::outline_of(trends::form_of(*history_));
    if (!outline)
        throw base::Failure(say("{} Nothing was stored.", outline.fault().what));
    if (const auto fault = trends::fault_in(weighing, *outline, session->session.mass_g))
        throw base::Failure(fault->what);
    end_weighing();
    weighing.session = session_;
    weighing.begun = base::now();
    const ledger::Id id = store_.add(weighing);
    weighing.id = id;
    open_history()->weighings.push_back(std::move(weighing));
    weighing_ = id;
    publish();
    return id;
}

void Workbench::end_weighing() {
    ledger::SessionHistory* session = open_history();
    const ledger::WeighingRecord* at_hand = weighing();
    weighing_ = 0;
    if (at_hand != nullptr && trends::progress_of(*session, *at_hand).with == 0) {
        store_.bin("weighing", at_hand->id);
        session->weighings.erase(session->weighings.begin() +
                                 (at_hand - session->weighings.data()));
    }
    publish();
}

bool Workbench::bears_mass(const HeardTap& heard) const {
    const ledger::WeighingRecord* at_hand = weighing();
    const ledger::SessionHistory* session = open_history();
    return at_hand != nullptr &&
           trends::progress_of(*session, *at_hand).step != trends::WeighingStep::done &&
           trends::mass_heard(session->modes, heard.partials, at_hand->mass_g,
                              session->session.mass_g) == trends::MassHeard::on;
}

} // namespace platewright::bench
