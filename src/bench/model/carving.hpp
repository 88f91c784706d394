#pragma once
#include "bench/command.hpp"
#include "bench/model/plate_worker.hpp"
#include "bench/workbench.hpp"

namespace platewright::bench {

/// The bench's commands on the shape of a plate and its wood: what a maker measures is checked and
/// kept, all of it or nothing; map, model and plan are computed aside.
/// Fails: base::Failure with the sentence that names the reading or the measure; nothing is stored.
/// Threads: the engine's; `woken` comes from the worker's.
class Carving {
public:
    Carving(ledger::Store& store, Workbench& workbench, std::function<void()> woken)
        : store_(store), workbench_(workbench), worker_(std::move(woken)) {}

    void execute(const command::SetForm& c);
    void execute(const command::SetTargets& c);
    void execute(const command::SetThickness& c);
    void execute(const command::AddPin& c);
    void execute(const command::AddFlex& c);
    void execute(const command::StudyPlate& c);
    void execute(const command::MakePlan& c);
    void execute(const command::TryCut& c) { worker_.try_cut(c.cut); }
    void execute(const command::KeepTrial&);

    /// Takes over what was finished aside: a plan is kept, so that it can be held against what
    /// happens; what the model expects at the spots goes to the naming of the coming taps.
    void take_over();
    /// Where the decision is of wood and a map is there, the model is asked for the next pass by
    /// itself, once for the plate as it is.
    void look_ahead();
    /// The pass that the decision names by the model is kept with its session, once the session is
    /// left: wood comes off there, asked for as a plan or not. Nothing where a plan was made in
    /// this session: the maker goes by that.
    void keep_named_pass();
    /// Leaves off what is computed aside.
    void stop() { worker_.stop(); }
    /// Another plate is on the bench.
    void forget();
    std::shared_ptr<const PlateWork> view() const { return worker_.view(); }

private:
    struct Asked {
        bool operator==(const Asked&) const = default;
        StudyInputs inputs;
        PlateWorker::Ahead ahead;
    };
    const ledger::PlateHistory& history() const;
    Asked ask_now() const; ///< of an open plate with sessions
    ledger::Id open_session() const;

    ledger::Store& store_;
    Workbench& workbench_;
    PlateWorker worker_;
    std::shared_ptr<const trends::PlateStudy> taken_over_;
    std::optional<Asked> asked_;                   ///< for the plate as it was then
    std::shared_ptr<const PlateView> looked_at_;   ///< by look_ahead
    std::shared_ptr<const trends::NextPass> next_; ///< the answer to asked_
};

} // namespace platewright::bench
