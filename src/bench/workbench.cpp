#include "trends/mass_check.hpp"
#include "trends/remarks.hpp"
#include "bench/workbench.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "base/clock.hpp"
#include "base/failure.hpp"
#include "bench/figures.hpp"
#include "bench/session_names.hpp"
#include "trends/repeatability.hpp"
#include "wording/say.hpp"

namespace platewright::bench {
namespace {

using wording::say;

constexpr std::size_t k_ghosts = 3;         // earlier sessions whose spectra lie behind the present one
constexpr double k_spectrum_s = 1.0;        // of ring, for the pictures

modes::Spectrum ring_spectrum(const taps::Tap& tap, double highest_hz) {
    const std::span<const float> ring = std::span{tap.samples}.subspan(tap.onset_index);
    const auto most = static_cast<std::size_t>(k_spectrum_s * tap.sample_rate_hz);
    return modes::spectrum(ring.first(std::min(ring.size(), most)), tap.sample_rate_hz, highest_hz);
}

std::string session_label(const ledger::SessionRecord& session) {
    return base::local_date(session.begun) + ", " + std::string(modes::to_text(session.stage));
}

/// The instrument's other plate, as its newest session with modes has it.
std::optional<Partner> partner_of(const ledger::Store& store, const ledger::PlateHistory& own) {
    for (const ledger::PlateRecord& other : store.find_plates(own.instrument.label)) { // no list of all: it grows
        if (other.instrument != own.instrument.id || other.part == own.plate.part)
            continue;
        const auto history = store.history(other.id);
        if (!history)
            continue;
        Partner partner{other.part, other.label, {}, {}, {}};
        for (const ledger::SessionHistory& session : history->sessions) {
            partner.mass_g = session.session.mass_g ? session.session.mass_g : partner.mass_g;
            for (const ledger::ModeRecord& mode : session.modes)
                if (mode.name && (mode.name->number == 2 || mode.name->number == 5))
                    (mode.name->number == 2 ? partner.mode_2_hz : partner.mode_5_hz) = mode.mode.frequency_hz;
        }
        if (partner.mode_2_hz || partner.mode_5_hz)
            return partner;
    }
    return std::nullopt;
}

/// An odd tap first: taking it back may be all that is needed.
std::string repeatability_of(const ledger::SessionHistory& session, int outlier_tap) {
    std::string words = outlier_tap >= 0 ? trends::why_apart(session, static_cast<std::size_t>(outlier_tap)) : "";
    return words.empty() ? trends::unfit_to_compare(session, trends::Whose::this_session) : words;
}

} // namespace

Workbench::Workbench(ledger::Store& store, const modes::FitParams& fit) : store_(store), fit_(fit) {}

ledger::Id Workbench::plate() const { return history_ ? history_->plate.id : 0; }

const ledger::SessionHistory* Workbench::open_history() const {
    if (!history_ || session_ == 0)
        return nullptr;
    const auto open = std::find_if(history_->sessions.begin(), history_->sessions.end(),
                                   [&](const auto& s) { return s.session.id == session_; });
    return open == history_->sessions.end() ? nullptr : &*open;
}

ledger::SessionHistory* Workbench::open_history() {
    return const_cast<ledger::SessionHistory*>(std::as_const(*this).open_history());
}

void Workbench::expect(std::vector<modes::SpotProfile> profiles) { profiles_ = std::move(profiles); }

void Workbench::open_plate(ledger::Id plate) {
    profiles_.clear();
    history_ = plate == 0 ? std::nullopt : store_.history(plate);
    session_ = history_ && !history_->sessions.empty() ? history_->sessions.back().session.id : 0;
    taken_up_ = false;
    lost_.clear();
    told_lost_.clear();
    last_tap_.reset();
    partner_ = history_ ? partner_of(store_, *history_) : std::nullopt;
    load_taps();
}

void Workbench::open_session(ledger::Id session) {
    if (history_ && std::none_of(history_->sessions.begin(), history_->sessions.end(),
                                 [&](const auto& s) { return s.session.id == session; }))
        throw base::Failure(
            std::string(say("That session is not one of the plate on the bench: open its plate first.")));
    session_ = session;
    taken_up_ = true;
    last_tap_.reset();
    load_taps();
}

ledger::Id Workbench::begin_session(ledger::SessionRecord session) {
    if (session.begun == base::Timestamp{})
        session.begun = base::now();
    check_mass(session);
    const ledger::Id id = store_.add(session);
    try {
        history_ = store_.history(session.plate);
        open_session(id);
    } catch (...) { // one that can't be opened must not be left behind, empty, at each attempt
        store_.bin("session", id);
        throw;
    }
    return id;
}

void Workbench::save_session(const ledger::SessionRecord& session) {
    check_mass(session);
    store_.update(session);
}

void Workbench::check_mass(const ledger::SessionRecord& session) const {
    const auto history = store_.history(session.plate);
    if (const auto fault = history ? trends::fault_in_mass(session, *history) : std::nullopt)
        throw base::Failure(fault->what);
}

void Workbench::reload() {
    const ledger::Id plate_id = plate(), session = session_;
    means_.clear();
    history_ = plate_id == 0 ? std::nullopt : store_.history(plate_id);
    session_ = session;
    if (!open_history())
        session_ = history_ && !history_->sessions.empty() ? history_->sessions.back().session.id : 0;
    load_taps();
}

void Workbench::compare_with(ledger::Id session) {
    compared_.reset();
    reference_.reset();
    if (const auto plate_id = session == 0 ? std::nullopt : store_.plate_of_session(session)) {
        if (const auto other = store_.history(*plate_id))
            for (const ledger::SessionHistory& one : other->sessions)
                if (one.session.id == session) {
                    compared_ = one;
                    compared_label_ = other->instrument.label + ", " + other->plate.label + ", " +
                                      session_label(one.session);
                }
        for (const ledger::ReferenceRecord& reference : store_.references())
            if (reference.session == session) {
                reference_ = reference;
                compared_label_ = reference.label;
            }
    }
    publish();
}

void Workbench::set_air(std::optional<trends::Air> air) {
    air_ = air;
    publish();
}

/// The open session beside the one it is compared with, both in one air where that is asked for.
trends::Comparison Workbench::comparison(const PlateView& view) const {
    ledger::PlateHistory other;
    other.sessions = {*compared_};
    if (air_)
        other = trends::in_air(other, *air_).history;
    const auto& sessions = view.trend_history().sessions;
    const auto open = std::find_if(sessions.begin(), sessions.end(),
                                   [this](const auto& s) { return s.session.id == session_; });
    return trends::compare(*open, other.sessions.front());
}

/// The sound of the open session's taps, from the ledger, so that all of them can share poles.
void Workbench::load_taps() {
    taps_.clear();
    spectra_.clear();
    pooled_ = {};
    naming_ = {};
    if (const ledger::SessionHistory* session = open_history()) {
        for (const ledger::TapRecord& record : session->taps) {
            HeardTap heard{.tap = {}, .partials = record.partials};
            heard.tap.verdict = record.verdict;
            heard.tap.spot = record.spot;
            if (auto sound = sound_of(record)) {
                heard.tap = *std::move(sound);
                spectra_.push_back(picture_of(heard.tap));
                last_tap_ = SpectrumView{std::string(say("last tap")), session_, spectra_.back()};
            }
            taps_.push_back(std::move(heard));
        }
        for (const ledger::ModeRecord& record : session->modes)
            naming_.modes.push_back({record.mode, record.name});
        if (!session->taps.empty()) {
            pooled_ = pool(taps_, fit_);
            const auto named = name_session(*history_, session->session, pooled_.modes, profiles_);
            naming_.ask_spot = named.ask_spot;
            naming_.doubt = named.doubt;
        }
    }
    publish();
}

std::optional<taps::Tap> Workbench::sound_of(const ledger::TapRecord& record) {
    if (record.verdict != taps::Verdict::accepted || record.recording.empty())
        return std::nullopt;
    try {
        taps::Tap tap = store_.load(record);
        if (tap.onset_index < tap.samples.size() && tap.sample_rate_hz > 0)
            return tap;
    } catch (const base::Failure&) {
        // Lost or damaged, as one whose row can't be true: its figures are in the ledger all the same.
    }
    lost_.insert(record.id);
    return std::nullopt;
}

std::optional<std::string> Workbench::take_trouble() {
    if (std::ranges::includes(told_lost_, lost_))
        return std::nullopt;
    told_lost_ = lost_;
    return wording::say_count(static_cast<std::int64_t>(lost_.size()),
                              "{} recording of this plate's taps is missing or damaged; the figures of its tap are "
                              "kept and used. platewright check names it.",
                              "{} recordings of this plate's taps are missing or damaged; the figures of their taps "
                              "are kept and used. platewright check names them.");
}

ledger::TapRecord Workbench::record_of(const HeardTap& heard) const {
    const taps::Tap& tap = heard.tap;
    return {.session = session_,
            .at = base::now(),
            .verdict = tap.verdict,
            .spot = tap.spot,
            .sample_rate_hz = tap.sample_rate_hz,
            .onset_frame = tap.onset_frame,
            .onset_index = static_cast<std::int64_t>(tap.onset_index),
            .peak_dbfs = tap.peak_dbfs,
            .noise_dbfs = tap.noise_dbfs,
            .recording = {},
            .analysis_version = std::string(modes::k_analysis_version),
            .partials = heard.partials};
}

modes::Spectrum Workbench::picture_of(const taps::Tap& tap) const { return ring_spectrum(tap, fit_.high_hz); }

bool Workbench::takes_taps() const {
    const ledger::SessionHistory* open = open_history();
    return open != nullptr && (taken_up_ || open->taps.empty() ||
                               base::local_date(open->session.begun) == base::local_date(base::now()));
}

bool Workbench::open_session_is_empty() const {
    const ledger::SessionHistory* open = open_history();
    return open != nullptr && open->taps.empty();
}

ledger::TapRecord Workbench::keep(const HeardTap& heard, std::optional<modes::Spectrum> picture) {
    ledger::TapRecord record = record_of(heard);
    ledger::SessionHistory* session = open_history();
    if (session == nullptr || !takes_taps() || store_.read_only())
        return record;
    record.id = store_.add(record, heard.tap);
    taken_up_ = true;
    session->taps.push_back(record);
    taps_.push_back(heard);
    if (record.verdict == taps::Verdict::accepted) {
        spectra_.push_back(picture ? *std::move(picture) : picture_of(heard.tap));
        last_tap_ = SpectrumView{std::string(say("last tap")), session_, spectra_.back()};
    }
    return record;
}

void Workbench::settle() {
    ledger::SessionHistory* session = open_history();
    if (session == nullptr)
        return publish();
    pooled_ = pool(taps_, fit_);
    naming_ = name_session(*history_, session->session, pooled_.modes, profiles_);
    keep_makers_names(naming_.modes, session->modes);
    session->modes = mode_records(session_, naming_.modes);
    if (!store_.read_only())
        store_.set_modes(session_, session->modes);
    publish();
}

ledger::Id Workbench::undo_tap() {
    ledger::SessionHistory* session = open_history();
    if (session == nullptr || session->taps.empty() || !takes_taps())
        return 0;
    const ledger::Id undone = session->taps.back().id;
    store_.bin("tap", undone);
    session->taps.pop_back();
    const taps::Tap& last = taps_.back().tap;
    if (last.verdict == taps::Verdict::accepted && !last.samples.empty() && !spectra_.empty())
        spectra_.pop_back();
    taps_.pop_back();
    last_tap_.reset();
    if (!spectra_.empty())
        last_tap_ = SpectrumView{std::string(say("last tap")), session_, spectra_.back()};
    settle();
    return undone;
}

std::optional<std::pair<ledger::TapRecord, taps::Tap>> Workbench::tap_with_sound(ledger::Id tap) const {
    // From the ledger: what was kept a moment ago has the name of its recording only there.
    if (const auto kept = store_.history(plate()))
        for (const ledger::SessionHistory& session : kept->sessions)
            for (const ledger::TapRecord& record : session.taps)
                if (record.id == tap && !record.recording.empty())
                    return std::pair{record, store_.load(record)};
    return std::nullopt;
}

void Workbench::name_mode(double frequency_hz, std::optional<int> number) {
    if (open_history() == nullptr)
        throw base::Failure(std::string(say("No session is open: a mode is named in a session.")));
    store_.name_mode(session_, frequency_hz, number);
    reload();
}

const SpectrumView& Workbench::mean_of(const ledger::SessionHistory& session, const std::string& label) {
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
        if (taps_[i].tap.verdict == taps::Verdict::accepted && accepted++ == pooled_.outlier)
            view->outlier_tap = static_cast<int>(i);
    if (const ledger::SessionHistory* session = open_history(); session != nullptr && !session->taps.empty())
        view->repeatability = repeatability_of(*session, view->outlier_tap);
    if (air_)
        view->in_air = std::make_shared<const trends::HistoryInAir>(trends::in_air(*history_, *air_));
    view->drift = trends::drift(view->trend_history());
    for (const trends::TrackDrift& drift : view->drift.tracks)
        view->forecasts.push_back(trends::forecast(drift.track, view->trend_history()));
    view->remarks = trends::remarks(view->trend_history(), view->drift, view->forecasts);
    const ledger::SessionHistory* open = open_history();
    if (compared_ && open != nullptr) {
        view->comparison = comparison(*view);
        view->reference = reference_ ? reference_ : ledger::ReferenceRecord{0, compared_->session.id, compared_label_};
        view->reference_label = compared_label_;
        view->reference_mean = mean_of(*compared_, compared_label_);
        view->reference_mean->label = compared_label_;
    }
    view->partner = partner_;
    view->figures = figures_of(*view);
    if (open != nullptr && !open->taps.empty())
        set_last_tap(view->figures, open->taps.back().partials);
    view->last_tap = last_tap_;
    if (!spectra_.empty())
        view->session_mean = SpectrumView{std::string(say("this session")), session_, modes::mean_spectrum(spectra_)};
    for (auto it = history_->sessions.rbegin(); it != history_->sessions.rend(); ++it)
        if (open != nullptr && it->session.begun < open->session.begun && view->ghosts.size() < k_ghosts)
            view->ghosts.push_back(mean_of(*it, session_label(it->session)));
    view_ = std::move(view);
}

std::shared_ptr<const PlateView> Workbench::view_with(const ledger::TapRecord& tap,
                                                      const modes::Spectrum& picture) const {
    if (!view_)
        return nullptr;
    auto view = std::make_shared<PlateView>(*view_);
    set_last_tap(view->figures, tap.partials);
    view->last_tap = SpectrumView{std::string(say("last tap")), session_, picture};
    return view;
}

} // namespace platewright::bench
