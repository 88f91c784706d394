// The part of Workbench that shows: what follows from the plate's history, and its spectra.
#include "base/clock.hpp"
#include "bench/session/figures.hpp"
#include "bench/workbench.hpp"
#include "trends/drift/repeatability.hpp"
#include "wording/say.hpp"

#include <algorithm>

namespace platewright::bench {
namespace {

using wording::say;

constexpr std::size_t k_ghosts = 3; // earlier sessions whose spectra lie behind the present one

std::string session_label(const ledger::SessionRecord& session) {
    return base::local_date(session.begun) + ", " + std::string(modes::to_text(session.stage));
}

/// An odd tap first: taking it back may be all that is needed.
std::string repeatability_of(const ledger::SessionHistory& session, int outlier_tap) {
    std::string words =
        outlier_tap >= 0 ? trends::why_apart(session, static_cast<std::size_t>(outlier_tap)) : "";
    return words.empty() ? trends::unfit_to_compare(session, trends::Whose::this_session) : words;
}

} // namespace

void Workbench::compare_with(ledger::Id session) {
    compared_.reset();
    reference_.reset();
    const auto other = store_.history_with(session);
    if (const auto* one = other ? ledger::session_in(other->sessions, session) : nullptr) {
        compared_ = *one;
        compared_label_ = other->instrument.label + ", " + other->plate.label + ", " +
                          session_label(one->session);
    }
    for (const ledger::ReferenceRecord& reference : store_.references())
        if (reference.session == session) {
            reference_ = reference;
            compared_label_ = reference.label;
        }
    publish();
}

trends::Comparison Workbench::comparison(const PlateView& view) const {
    ledger::PlateHistory other;
    other.sessions = {*compared_};
    if (air_)
        other = trends::in_air(other, *air_).history;
    return trends::compare(*ledger::session_in(view.trend_history().sessions, session_),
                           other.sessions.front());
}

const SpectrumView& Workbench::mean_of(const ledger::SessionHistory& session,
                                       const std::string& label) {
    const auto known = means_.find(session.session.id);
    if (known != means_.end())
        return known->second;
    std::vector<modes::Spectrum> spectra;
    for (const ledger::TapRecord& record : session.taps)
        if (const auto sound = sound_of(record))
            spectra.push_back(picture_of(*sound));
    return means_[session.session.id] = {label, session.session.id, modes::mean_spectrum(spectra)};
}

void Workbench::publish() {
    if (!history_) {
        view_.reset();
        return;
    }
    auto view = std::make_shared<PlateView>();
    view->history = *history_;
    view->session = session_;
    view->naming = naming_;
    view->spread_permille = pooled_.spread_permille;
    int accepted = 0;
    for (std::size_t i = 0; i < taps_.size(); ++i) // the pool counts accepted taps only
        if (taps::counts(taps_[i].tap.verdict) && accepted++ == pooled_.outlier)
            view->outlier_tap = static_cast<int>(i);
    if (const ledger::SessionHistory* session = open_history();
        session != nullptr && !session->taps.empty())
        view->repeatability = repeatability_of(*session, view->outlier_tap);
    if (air_)
        view->in_air =
            std::make_shared<const trends::HistoryInAir>(trends::in_air(*history_, *air_));
    const ledger::SessionHistory* open = open_history();
    if (compared_ && open != nullptr) {
        view->comparison = comparison(*view);
        view->reference = reference_
                              ? reference_
                              : ledger::ReferenceRecord{0, compared_->session.id, compared_label_};
        view->reference_label = compared_label_;
        view->reference_mean = mean_of(*compared_, compared_label_);
        view->reference_mean->label = compared_label_;
    }
    if (const ledger::WeighingRecord* at_hand = weighing())
        view->weighing = WeighingView{*at_hand, trends::progress_of(*open, *at_hand),
                                      trends::weighed_shifts(*open, *at_hand)};
    view->partner = partner_;
    view->forced = forced_.answers(naming_.modes);
    report(*view);
    view->figures = figures_of(*view);
    view->last_tap = last_picture();
    if (view->last_tap)
        view->session_mean = SpectrumView{say("this session"), session_, mean_picture()};
    for (auto it = history_->sessions.rbegin(); it != history_->sessions.rend(); ++it)
        if (open != nullptr && it->session.begun < open->session.begun &&
            view->ghosts.size() < k_ghosts)
            view->ghosts.push_back(mean_of(*it, session_label(it->session)));
    view_ = std::move(view);
}

/// Drift, forecasts, remarks, goals and the decision.
void Workbench::report(PlateView& view) const {
    const ledger::PlateHistory& history = view.trend_history();
    trends::Question question{.history = &history,
                              .comparison = view.comparison ? &*view.comparison : nullptr,
                              .ask_spot = view.naming.doubt.ask_spot,
                              .foresight = next_ ? &next_->foresight : nullptr};
    question.session = index_of(history.sessions, session_);
    static_cast<trends::PlateReport&>(view) = trends::report_on(question);
}

std::optional<SpectrumView> Workbench::last_picture() const {
    for (auto tap = taps_.rbegin(); tap != taps_.rend(); ++tap)
        if (tap->picture && taps::counts(tap->tap.verdict))
            return SpectrumView{say("last tap"), session_, *tap->picture};
    return std::nullopt;
}

modes::Spectrum Workbench::mean_picture() {
    for (; in_mean_ < taps_.size(); ++in_mean_)
        if (const HeardTap& tap = taps_[in_mean_]; tap.picture && taps::counts(tap.tap.verdict))
            mean_.add(*tap.picture);
    return mean_.mean();
}

std::shared_ptr<const PlateView> Workbench::view_with(const modes::Spectrum& picture) const {
    if (!view_)
        return nullptr;
    auto view = std::make_shared<PlateView>(*view_);
    view->last_tap = SpectrumView{say("last tap"), session_, picture};
    return view;
}

} // namespace platewright::bench
