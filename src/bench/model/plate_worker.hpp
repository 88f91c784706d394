#pragma once
#include "bench/model/aside.hpp"
#include "bench/model/plate_work.hpp"

#include <functional>
#include <mutex>
#include <variant>
#include <vector>

namespace platewright::bench {

/// Solves, fits and plans aside, so that the bench goes on listening. One thing at a time; what is
/// asked newest takes the place of what was being done.
/// Threads: its own; every call may come from any thread and does not wait for the work. `woken` is
/// called from the worker's thread whenever view() has changed.
class PlateWorker {
public:
    /// What the next pass is to come to.
    struct Ahead {
        bool operator==(const Ahead&) const = default;
        std::vector<trends::Goal> goals;
        std::optional<trends::Air> air; ///< that they are meant in; nothing: the plate's
    };

    explicit PlateWorker(std::function<void()> woken);
    PlateWorker(const PlateWorker&) = delete;
    PlateWorker& operator=(const PlateWorker&) = delete;

    /// Describes the map, fits the model, holds the last plan against what happened; then the next
    /// pass towards the goals, where there are any.
    void study(ledger::PlateHistory history, std::size_t session, Ahead ahead);
    /// The next pass alone, on the study at hand. A plan or a cut asked for meanwhile comes first,
    /// and this after it.
    void look_ahead(Ahead ahead);
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
        Ahead ahead;
    };
    using Job = std::variant<Study, Ahead, trends::PlanRequest, plate::Cut>;

    void act(const Job& job);
    void do_study(const Study& job);
    void do_plan(const trends::PlanRequest& request);
    void do_try(const plate::Cut& cut);
    void look_ahead_as_owed();
    void owe(std::optional<Ahead> ahead);
    /// Publishes unless the work was called off meanwhile.
    void publish(const PlateWork& work);
    bool tell(PlateWork& work, double share);

    std::function<void()> woken_;
    mutable std::mutex door_;
    std::shared_ptr<const PlateWork> view_;
    std::optional<ledger::PlanRecord> finished_;
    std::optional<Ahead> owed_; ///< asked for, and not yet looked
    Aside<Job> aside_; // last: it uses all of the above
};

} // namespace platewright::bench
