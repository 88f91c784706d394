#include "bench/errand.hpp"

#include "wording/failing.hpp"

namespace platewright::bench {
namespace {

ErrandOutcome outcome_of(const Errand& errand, ledger::Store& store,
                         const ledger::Progress& progress) {
    try {
        return errand.act(store, progress);
    } catch (...) {
        return {.good = false, .sentence = wording::sentence_for_failure()};
    }
}

} // namespace

Errands::Errands(std::filesystem::path ledger_folder, std::function<void()> woken)
    : folder_(std::move(ledger_folder)), woken_(std::move(woken)),
      aside_([this](const Errand& errand) { run_aside(errand); }) {}

std::shared_ptr<const ErrandView> Errands::view() const {
    const std::lock_guard lock(door_);
    return view_;
}

void Errands::show(const ErrandView& view) {
    auto next = std::make_shared<const ErrandView>(view);
    const std::lock_guard lock(door_);
    if (!view_ || view_->number <= next->number) // one that was left off says nothing more
        view_ = std::move(next);
}

void Errands::run(const Errand& errand, ledger::Store& store, const std::function<bool()>& moved) {
    ErrandView now{.number = ++number_, .doing = errand.doing};
    show(now);
    if (!errand.writes) {
        aside_.ask(errand);
        return;
    }
    aside_.call_off();
    now.outcome = outcome_of(errand, store, [&](double share) {
        now.share = share;
        show(now);
        return moved();
    });
    now.done = true;
    show(now);
}

void Errands::run_aside(const Errand& errand) {
    ErrandView now = *view();
    try {
        ledger::Store store(folder_, ledger::Access::read_only);
        now.outcome = outcome_of(errand, store, [&](double share) {
            now.share = share;
            show(now);
            woken_();
            return aside_.goes_on();
        });
    } catch (...) {
        now.outcome = {.good = false, .sentence = wording::sentence_for_failure()};
    }
    now.done = true;
    show(now);
    woken_();
}

} // namespace platewright::bench
