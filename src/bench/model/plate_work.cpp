#include "bench/model/plate_work.hpp"

#include <algorithm>

namespace platewright::bench {
namespace {

// What is not named here counts: a new field of a record makes a model stale until it is known not
// to.
ledger::PlateHistory bare(const ledger::PlateHistory& history) {
    ledger::PlateHistory kept;
    kept.instrument = history.instrument;
    kept.instrument.label.clear();
    kept.instrument.notes.clear();
    kept.plate = history.plate;
    kept.plate.label.clear();
    kept.plate.notes.clear();
    kept.form = history.form;
    kept.wood = history.wood;
    if (kept.wood) {
        kept.wood->wood.notes.clear();
        kept.wood->wood.origin.clear();
        kept.wood->plates.clear();
        for (ledger::WoodTest& test : kept.wood->tests)
            test.taps.clear();
    }
    return kept;
}

ledger::SessionHistory bare(const ledger::SessionHistory& session) {
    ledger::SessionHistory kept;
    kept.session = session.session;
    kept.session.notes.clear();
    kept.thickness = session.thickness;
    kept.flex = session.flex;
    kept.weighings = session.weighings;
    if (!session.weighings.empty()) // their taps tell what the modes alone don't
        kept.taps = session.taps;
    std::ranges::copy_if(session.modes, std::back_inserter(kept.modes),
                         [](const ledger::ModeRecord& mode) { return mode.name.has_value(); });
    for (ledger::ModeRecord& mode : kept.modes) // rows of their own with each tap
        mode.id = 0;
    return kept;
}

} // namespace

StudyInputs inputs_of(const ledger::PlateHistory& history, std::size_t session) {
    StudyInputs inputs{bare(history), session};
    for (std::size_t i = 0; i <= session && i < history.sessions.size(); ++i) {
        inputs.history.sessions.push_back(bare(history.sessions[i]));
        if (i < session) // where wood came off since
            inputs.history.sessions.back().plan = history.sessions[i].plan;
    }
    return inputs;
}

} // namespace platewright::bench
