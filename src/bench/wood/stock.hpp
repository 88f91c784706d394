#pragma once
#include "bench/command.hpp"
#include "bench/model/aside.hpp"
#include "bench/wood/stock_view.hpp"
#include "bench/workbench.hpp"

#include <map>
#include <memory>

namespace platewright::bench {

/// The bench's commands on the wood in stock: what a maker measures is checked and kept; the
/// figures are computed aside, each wood's again only when something of it has changed. Fails:
/// base::Failure with the sentence that names what is missing; nothing is stored. Threads: the
/// engine's; `woken` comes from the worker's.
class Stock {
public:
    Stock(ledger::Store& store, Workbench& workbench, std::function<void()> woken);

    void execute(const command::StudyStock& c);
    void execute(const command::AddWood& c);
    void execute(const command::SaveWood& c);
    void execute(const command::SetCarved& c);

    /// The ledger has changed: what is shown of the wood is read again, where it was asked for.
    void reload();
    /// Leaves off; what was computed stays.
    void stop();
    /// Takes over what was finished aside.
    void take_over();
    /// Null while nothing was asked.
    std::shared_ptr<const StockView> view() const { return view_; }

private:
    using Known = std::map<std::string, trends::WoodFigures>; // by what they were computed from
    struct Job {
        std::vector<ledger::WoodHistory> woods; // still to be computed
        std::optional<double> moisture_pct;
    };

    void compute(const Job& job);
    void show(std::vector<ledger::WoodHistory> woods);

    ledger::Store& store_;
    Workbench& workbench_;
    std::function<void()> woken_;
    std::shared_ptr<const StockView> view_;
    std::optional<double> moisture_pct_;
    bool stopped_ = false;
    Known known_;
    std::size_t wanted_ = 0; // woods that were asked for last

    mutable std::mutex door_; // guards what comes from aside
    Known finished_;
    Aside<Job> aside_; // last: it uses all of the above
};

/// The wood of this label; where there is none, it is entered as it is here.
ledger::Id wood_called(ledger::Store& store, const ledger::WoodRecord& wood);

} // namespace platewright::bench
