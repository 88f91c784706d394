#pragma once
#include "bench/aside.hpp"
#include "bench/plate_work.hpp"

#include <functional>
#include <mutex>
#include <variant>

namespace platewright::bench {

/// Solves, fits and plans aside, so that the bench goes on listening. One thing at a time; what is
/// asked newest takes the place of what was being done.
/// Threads: its own; every call may come from any thread and does not wait for the work. `woken` is
/// called from the worker's thread whenever view() has changed.
class PlateWorker {
public:
    explicit PlateWorker(std::function<void()> woken);
    PlateWorker(const PlateWorker&) = delete;
    PlateWorker& operator=(const PlateWorker&) = delete;

    /// Describes the map, fits the model, holds the last plan against what happened.
    void study(ledger::PlateHistory history, std::size_t session);
    /// A plan on the study at hand; a sentence in plan_trouble where there is none.
    void plan(trends::PlanRequest request);
    /// A cut tried on the study at hand; a sentence in trial_trouble where it can't be.
    void try_cut(plate::Cut cut);
    /// Leaves off; what was there before stays.
    void stop();
    /// Leaves off and forgets: another plate is on the bench.
    void forget();

    /// Null while nothing was asked.
    std::shared_ptr<const PlateWork> view() const;
    /// A plan that is finished and not yet kept, each once.
    std::optional<ledger::PlanRecord> take_plan();

private:
    struct Study {
        ledger::PlateHistory history;
        std::size_t session = 0;
    };
    using Job = std::variant<Study, trends::PlanRequest, plate::Cut>;

    void act(const Job& job);
    void do_study(const Study& job);
    void do_plan(const trends::PlanRequest& request);
    void do_try(const plate::Cut& cut);
    /// Publishes unless the work was called off meanwhile.
    void publish(const PlateWork& work);
    bool tell(PlateWork& work, double share);

    std::function<void()> woken_;
    mutable std::mutex door_;
    std::shared_ptr<const PlateWork> view_;
    std::optional<ledger::PlanRecord> finished_;
    Aside<Job> aside_; // last: it uses all of the above
};

} // namespace platewright::bench
