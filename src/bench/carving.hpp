#pragma once
#include "bench/command.hpp"
#include "bench/plate_worker.hpp"
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

    void obey(const command::SetForm& c);
    void obey(const command::SetThickness& c);
    void obey(const command::AddPin& c);
    void obey(const command::AddFlex& c);
    void obey(const command::StudyPlate& c);
    void obey(const command::MakePlan& c);
    void obey(const command::TryCut& c) { worker_.try_cut(c.cut); }
    void obey(const command::KeepTrial&);

    /// Takes over what was finished aside: a plan is kept, so that it can be held against what
    /// happens; what the model expects at the spots goes to the naming of the coming taps.
    void take_over();
    /// Leaves off what is computed aside.
    void stop() { worker_.stop(); }
    /// Another plate is on the bench.
    void forget() { worker_.forget(); }
    std::shared_ptr<const PlateWork> view() const { return worker_.view(); }

private:
    const ledger::PlateHistory& history() const;
    ledger::Id open_session() const;

    ledger::Store& store_;
    Workbench& workbench_;
    PlateWorker worker_;
    std::shared_ptr<const trends::PlateStudy> taken_over_;
};

} // namespace platewright::bench
