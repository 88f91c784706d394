#include "bench/wood/stock.hpp"

#include "base/clock.hpp"
#include "base/failure.hpp"
#include "base/text.hpp"
#include "wording/say.hpp"

#include <algorithm>
#include <exception>

namespace platewright::bench {
namespace {
using wording::say;

/// Anything that would change a wood's figures changes this.
std::string key_of(const ledger::WoodHistory& wood, std::optional<double> moisture_pct) {
    // What is said of a wood is in the language of the day.
    std::string key = std::to_string(static_cast<int>(wording::spoken())) + wood.wood.species +
                      (moisture_pct ? base::fixed(*moisture_pct, 3) : "-");
    for (const ledger::WoodTest& test : wood.tests) {
        key += ";" + std::to_string(test.record.id);
        for (const ledger::WoodModeRecord& mode : test.modes)
            key += "," + std::string(ledger::to_word(mode.motion)) +
                   base::fixed(mode.frequency_hz, 4) + "/" + base::fixed(mode.q.value_or(0.0), 3);
    }
    return key;
}

const ledger::WoodHistory* find(const std::vector<ledger::WoodHistory>& stock, ledger::Id wood) {
    const auto found = std::ranges::find(stock, wood, [](const auto& one) { return one.wood.id; });
    return found == stock.end() ? nullptr : &*found;
}

} // namespace

ledger::Id wood_called(ledger::Store& store, const ledger::WoodRecord& wood) {
    for (const ledger::WoodHistory& known : store.wood_stock())
        if (known.wood.label == wood.label)
            return known.wood.id;
    return store.add(wood);
}

Stock::Stock(ledger::Store& store, Workbench& workbench, std::function<void()> woken)
    : store_(store), workbench_(workbench), woken_(std::move(woken)),
      aside_([this](const Job& job) { compute(job); }) {}

void Stock::execute(const command::StudyStock& c) {
    moisture_pct_ = c.moisture_pct;
    stopped_ = false;
    show(store_.wood_stock());
}

void Stock::execute(const command::AddWood& c) {
    ledger::WoodRecord wood = c.wood;
    wood.label = std::string(base::trimmed(wood.label));
    if (wood.label.empty())
        throw base::Failure(
            say("Give the wood a name, as it has in your stock. Nothing was stored."));
    ledger::WoodTestRecord test = c.test;
    if (test.along_mm <= 0 || test.across_mm <= 0 || test.thickness_mm <= 0)
        throw base::Failure(
            say("A piece needs its length, width and thickness. Nothing was stored."));
    test.at = base::now();
    wood.created = test.at;
    test.wood = wood_called(store_, wood);
    const auto stock = store_.wood_stock();
    const trends::RecognisedMotions found =
        trends::recognise({}, test, find(stock, test.wood)->wood.species, c.motions, {});
    store_.add(test, found.modes);
    stopped_ = false;
    show(store_.wood_stock());
}

void Stock::execute(const command::SaveWood& c) {
    if (base::trimmed(c.wood.label).empty())
        throw base::Failure(
            say("Give the wood a name, as it has in your stock. Nothing was stored."));
    store_.update(c.wood);
    workbench_.reload();
    show(store_.wood_stock());
}

void Stock::execute(const command::SetCarved& c) {
    store_.set_carved(c.plate, c.wood);
    workbench_.reload();
    show(store_.wood_stock());
}

void Stock::reload() {
    if (view_)
        show(store_.wood_stock());
}

void Stock::stop() {
    if (!view_ || view_->doing.empty())
        return;
    aside_.call_off();
    stopped_ = true;
    auto still = std::make_shared<StockView>(*view_);
    still->doing.clear();
    view_ = std::move(still);
}

/// What is known at once, and the rest aside.
void Stock::show(std::vector<ledger::WoodHistory> woods) {
    auto view = std::make_shared<StockView>();
    view->moisture_pct = moisture_pct_;
    Job job{{}, moisture_pct_};
    for (ledger::WoodHistory& one : woods) {
        const auto known = known_.find(key_of(one, moisture_pct_));
        if (known == known_.end())
            job.woods.push_back(one);
        view->woods.push_back(
            {std::move(one), known == known_.end() ? std::nullopt : std::optional{known->second}});
    }
    wanted_ = job.woods.size();
    if (!job.woods.empty() && !stopped_) {
        view->doing = say("Reading the taps of the wood");
        aside_.ask(std::move(job));
    }
    view_ = std::move(view);
}

/// On the worker's thread.
void Stock::compute(const Job& job) {
    for (const ledger::WoodHistory& wood : job.woods) {
        if (!aside_.goes_on())
            return;
        trends::WoodFigures figures;
        try {
            figures = trends::wood_figures(wood, job.moisture_pct);
        } catch (const std::exception& error) { // the others go on
            figures.remarks.push_back(
                say("The figures of this wood could not be computed; what was kept is safe: {}",
                    std::string_view(error.what())));
        }
        {
            const std::lock_guard lock(door_);
            finished_.insert_or_assign(key_of(wood, job.moisture_pct), std::move(figures));
        }
        woken_();
    }
}

void Stock::take_over() {
    {
        const std::lock_guard lock(door_);
        if (finished_.empty())
            return;
        known_.merge(finished_);
        finished_.clear();
    }
    if (!view_)
        return;
    auto view = std::make_shared<StockView>(*view_);
    std::size_t missing = 0;
    for (StockedWood& one : view->woods) {
        if (const auto known = known_.find(key_of(one.history, moisture_pct_));
            known != known_.end())
            one.figures = known->second;
        missing += one.figures ? 0U : 1U;
    }
    view->share =
        wanted_ == 0 ? 1.0 : 1.0 - static_cast<double>(missing) / static_cast<double>(wanted_);
    if (missing == 0)
        view->doing.clear();
    view_ = std::move(view);
}

} // namespace platewright::bench
