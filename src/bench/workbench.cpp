#include "bench/workbench.hpp"

#include "base/clock.hpp"
#include "base/failure.hpp"
#include "bench/session/figures.hpp"
#include "bench/session/session_names.hpp"
#include "modes/ring/stranger.hpp"
#include "trends/review/mass_check.hpp"
#include "wording/say.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace platewright::bench {
namespace {

using wording::say;

constexpr double k_spectrum_s = 1.0; // of ring, for the pictures

modes::Spectrum ring_spectrum(const taps::Tap& tap, double highest_hz) {
    const std::span<const float> ring = std::span{tap.samples}.subspan(tap.onset_index);
    const auto most = static_cast<std::size_t>(k_spectrum_s * tap.sample_rate_hz);
    return modes::spectrum(ring.first(std::min(ring.size(), most)), tap.sample_rate_hz, highest_hz);
}

/// The instrument's other plate, as its newest session with modes has it.
std::optional<Partner> partner_of(const ledger::Store& store, const ledger::PlateHistory& own) {
    for (const ledger::PlateRecord& other :
         store.find_plates(own.instrument.label)) { // no list of all: it grows
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
                    (mode.name->number == 2 ? partner.mode_2_hz : partner.mode_5_hz) =
                        mode.mode.frequency_hz;
        }
        if (partner.mode_2_hz || partner.mode_5_hz)
            return partner;
    }
    return std::nullopt;
}

} // namespace

Workbench::Workbench(ledger::Store& store, const modes::FitParams& fit)
    : store_(store), fit_(fit) {}

ledger::Id Workbench::plate() const { return history_ ? history_->plate.id : 0; }

const ledger::SessionHistory* Workbench::open_history() const {
    return history_ ? ledger::session_in(history_->sessions, session_) : nullptr;
}

ledger::SessionHistory* Workbench::open_history() {
    return const_cast<ledger::SessionHistory*>(std::as_const(*this).open_history());
}

void Workbench::expect(std::vector<modes::SpotProfile> profiles) {
    profiles_ = std::move(profiles);
}

void Workbench::look_in(const modes::FitParams& fit) {
    const bool pictures_end_elsewhere = fit.high_hz != fit_.high_hz;
    fit_ = fit;
    if (history_ && pictures_end_elsewhere)
        reload();
}

void Workbench::open_plate(ledger::Id plate) {
    profiles_.clear();
    history_ = plate == 0 ? std::nullopt : store_.history(plate);
    session_ = history_ && !history_->sessions.empty() ? history_->sessions.back().session.id : 0;
    weighing_ = 0;
    next_.reset();
    taken_up_ = false;
    lost_.clear();
    told_lost_.clear();
    partner_ = history_ ? partner_of(store_, *history_) : std::nullopt;
    load_taps();
}

void Workbench::open_session(ledger::Id session) {
    if (history_ && !index_of(history_->sessions, session))
        throw base::Failure(
            say("That session is not one of the plate on the bench: open its plate first."));
    session_ = session;
    weighing_ = 0;
    next_.reset();
    taken_up_ = true;
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

void Workbench::check_mass(const ledger::SessionRecord& session) const {
    const auto history = store_.history(session.plate);
    if (const auto fault = history ? trends::fault_in_mass(session, *history) : std::nullopt)
        throw base::Failure(fault->what);
}

void Workbench::reload() {
    const ledger::Id plate_id = plate(), session = session_;
    means_.clear();
    next_.reset();
    history_ = plate_id == 0 ? std::nullopt : store_.history(plate_id);
    session_ = session;
    if (!open_history())
        session_ =
            history_ && !history_->sessions.empty() ? history_->sessions.back().session.id : 0;
    load_taps();
}

void Workbench::foresee(std::shared_ptr<const trends::NextPass> next) {
    next_ = std::move(next);
    publish();
}

void Workbench::set_air(std::optional<trends::Air> air) {
    air_ = air;
    publish();
}

/// The sound of the open session's taps, from the ledger, so that all of them can share poles.
void Workbench::load_taps() {
    taps_.clear();
    pooled_ = {};
    naming_ = {};
    if (const ledger::SessionHistory* session = open_history()) {
        for (const ledger::TapRecord& record : session->taps) {
            HeardTap heard{.tap = {}, .partials = record.partials, .picture = {}};
            heard.tap.verdict = record.verdict;
            heard.tap.spot = record.spot;
            if (auto sound = sound_of(record, &heard.force)) {
                heard.tap = *std::move(sound);
                heard.picture = picture_of(heard.tap);
            }
            taps_.push_back(std::move(heard));
        }
        if (!session->taps.empty())
            pooled_ = pool(taps_, fit_);
        // The kept modes, weighed anew: names and what is doubtful of them come from one weighing.
        std::vector<modes::Mode> kept;
        for (const ledger::ModeRecord& record : session->modes)
            kept.push_back(record.mode);
        naming_ = name_session(*history_, *session, kept, profiles_);
    }
    add_anew();
    publish();
}

/// What is added up over the open session's taps, from the first one on.
void Workbench::add_anew() {
    mean_ = {};
    in_mean_ = 0;
    forced_.clear();
    for (const HeardTap& tap : taps_)
        forced_.add(tap);
}

std::optional<taps::Tap> Workbench::sound_of(const ledger::TapRecord& record,
                                             ledger::HammerForce* force) {
    if (!taps::counts(record.verdict) || record.recording.empty())
        return std::nullopt;
    try {
        taps::Tap tap = store_.load(record, force);
        if (tap.onset_index < tap.samples.size() && tap.sample_rate_hz > 0)
            return tap;
    } catch (const base::Failure&) {
        // Lost or damaged, as one whose row can't be true: its figures are in the ledger all the
        // same.
    }
    lost_.insert(record.id);
    return std::nullopt;
}

std::optional<std::string> Workbench::take_trouble() {
    if (std::ranges::includes(told_lost_, lost_))
        return std::nullopt;
    told_lost_ = lost_;
    return wording::say_count(
        static_cast<std::int64_t>(lost_.size()),
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
            .partials = heard.partials,
            .weighing = tap.verdict == taps::Verdict::weighed ? weighing_ : 0};
}

modes::Spectrum Workbench::picture_of(const taps::Tap& tap) const {
    return ring_spectrum(tap, fit_.high_hz);
}

bool Workbench::takes_taps() const {
    const ledger::SessionHistory* open = open_history();
    return open != nullptr &&
           (taken_up_ || open->taps.empty() ||
            base::local_date(open->session.begun) == base::local_date(base::now()));
}

bool Workbench::open_session_is_empty() const {
    const ledger::SessionHistory* open = open_history();
    return open != nullptr && open->taps.empty();
}

ledger::TapRecord Workbench::keep(HeardTap heard) {
    ledger::TapRecord record = record_of(heard);
    ledger::SessionHistory* session = open_history();
    newest_force_.reset();
    if (session == nullptr || !takes_taps() || store_.read_only())
        return record;
    record.id = store_.add(record, heard.tap, heard.force);
    newest_force_ = forced_.add(heard);
    record.recording = store_.recording_of(record.id);
    taken_up_ = true;
    const bool counts = taps::counts(record.verdict);
    if (counts && !heard.picture)
        heard.picture = picture_of(heard.tap);
    session->taps.push_back(record);
    taps_.push_back(std::move(heard));
    if (!counts) // what counts is shown once it is pooled: settle()
        publish();
    return record;
}

bool Workbench::is_stranger(const HeardTap& heard) const {
    return modes::outrings_wood(heard.partials) ||
           modes::rings_like_none_of(partials_that_count(taps_), heard.partials);
}

bool Workbench::judge(HeardTap& heard, bool takes_doubtful) const {
    if (takes_taps())
        accept_if_recognised(heard, taps_);
    vouch_if(takes_doubtful, heard);
    if (!taps::counts(heard.tap.verdict))
        return false;
    if (bears_mass(heard))
        heard.tap.verdict = taps::Verdict::weighed;
    else if (takes_taps() && is_stranger(heard))
        heard.tap.verdict = taps::Verdict::stranger;
    else if (takes_taps())
        refuse_if_struck_again(heard, taps_, fit_);
    return true;
}

int Workbench::recognise() {
    ledger::SessionHistory* session = open_history();
    if (session == nullptr || store_.read_only())
        return 0;
    const std::vector<std::size_t> recognised = bench::recognise(taps_);
    for (const std::size_t i : recognised) {
        session->taps[i].verdict = taps::Verdict::accepted;
        store_.set_verdict(session->taps[i].id, taps::Verdict::accepted);
        taps_[i].picture = picture_of(taps_[i].tap);
    }
    if (!recognised.empty())
        add_anew();
    return static_cast<int>(recognised.size());
}

bool Workbench::vouch_for(ledger::Id tap) {
    const ledger::SessionHistory* session = open_history();
    const bool is_here =
        session != nullptr &&
        std::any_of(session->taps.begin(), session->taps.end(),
                    [&](const auto& t) { return t.id == tap && taps::is_in_question(t.verdict); });
    if (!is_here)
        return false;
    store_.set_verdict(tap, taps::Verdict::vouched);
    reload();
    settle();
    return true;
}

void Workbench::settle() {
    ledger::SessionHistory* session = open_history();
    if (session == nullptr)
        return publish();
    pooled_ = pool(taps_, fit_);
    naming_ = name_session(*history_, *session, pooled_.modes, profiles_);
    session->modes = mode_records(session_, naming_.modes);
    if (!store_.read_only())
        store_.set_modes(session_, session->modes);
    name_later_sessions();
    publish();
}

ledger::Id Workbench::undo_tap() {
    ledger::SessionHistory* session = open_history();
    if (session == nullptr || session->taps.empty() || !takes_taps())
        return 0;
    const ledger::Id undone = session->taps.back().id;
    store_.bin("tap", undone);
    session->taps.pop_back();
    taps_.pop_back();
    add_anew();
    settle();
    return undone;
}

std::optional<std::pair<ledger::TapRecord, taps::Tap>>
Workbench::tap_with_sound(ledger::Id tap) const {
    if (history_)
        for (const ledger::SessionHistory& session : history_->sessions)
            for (const ledger::TapRecord& record : session.taps)
                if (record.id == tap && !record.recording.empty())
                    return std::pair{record, store_.load(record)};
    return std::nullopt;
}

void Workbench::name_mode(double frequency_hz, std::optional<int> number) {
    if (open_history() == nullptr)
        throw base::Failure(say("No session is open: a mode is named in a session."));
    store_.name_mode(session_, frequency_hz, number);
    reload();
    if (name_later_sessions())
        publish();
}

} // namespace platewright::bench
