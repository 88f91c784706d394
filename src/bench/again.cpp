#include "bench/again.hpp"

#include "base/failure.hpp"
#include "bench/listening.hpp"
#include "bench/session_names.hpp"

namespace platewright::bench {
namespace {

/// A kept tap as it is heard now.
HeardTap hear_again(const ledger::Store& store, const ledger::TapRecord& record, const modes::FitParams& params,
                    SessionAgain& session) {
    HeardTap heard{.tap = {}, .partials = record.partials};
    heard.tap.verdict = record.verdict;
    heard.tap.spot = record.spot;
    if (record.verdict != taps::Verdict::accepted)
        return heard;
    try {
        if (record.recording.empty()) {
            ++session.lost;
            return heard;
        }
        heard.tap = store.load(record);
    } catch (const base::Failure&) {
        ++session.lost;
        return heard;
    }
    modes::Fit fit = modes::fit_tap(heard.tap, params);
    heard.partials = std::move(fit.partials);
    if (fit.status != modes::FitStatus::ok) {
        heard.tap.verdict = taps::Verdict::no_ring;
        ++session.not_rung;
    }
    return heard;
}

/// Which taps' partials were found now, and not taken over.
bool is_new(const ledger::TapRecord& tap) {
    return tap.verdict == taps::Verdict::accepted && tap.analysis_version == modes::k_analysis_version;
}

} // namespace

std::vector<SessionAgain> analyse_again(const ledger::Store& store, const ledger::PlateHistory& history,
                                        const modes::FitParams& fit, const std::function<bool(double)>& progress) {
    std::size_t all = 0, done = 0;
    for (const ledger::SessionHistory& session : history.sessions)
        all += session.taps.size();
    ledger::PlateHistory anew = history; // earlier sessions as they come out now
    std::vector<SessionAgain> sessions;
    for (ledger::SessionHistory& after : anew.sessions) {
        SessionAgain session;
        session.before = after;
        std::vector<HeardTap> taps;
        for (ledger::TapRecord& tap : after.taps) {
            const int lost = session.lost;
            taps.push_back(hear_again(store, tap, fit, session));
            if (session.lost == lost && tap.verdict == taps::Verdict::accepted) {
                tap.partials = taps.back().partials;
                tap.analysis_version = std::string(modes::k_analysis_version);
            }
            if (progress && !progress(static_cast<double>(++done) / static_cast<double>(all)))
                return sessions;
        }
        modes::Naming naming = name_session(anew, after.session, pool(taps, fit).modes);
        keep_makers_names(naming.modes, session.before.modes);
        after.modes = mode_records(after.session.id, naming.modes);
        session.after = after;
        session.difference = trends::compare(session.after, session.before);
        sessions.push_back(std::move(session));
    }
    return sessions;
}

void keep_again(ledger::Store& store, const std::vector<SessionAgain>& sessions) {
    for (const SessionAgain& session : sessions) {
        for (const ledger::TapRecord& tap : session.after.taps)
            if (is_new(tap) && !store.has_reading(tap.id, modes::k_analysis_version))
                store.add_reading(tap.id, modes::k_analysis_version, tap.partials);
        store.set_modes(session.after.session.id, session.after.modes);
    }
}

} // namespace platewright::bench
