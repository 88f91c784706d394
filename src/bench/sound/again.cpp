#include "bench/sound/again.hpp"

#include "base/failure.hpp"
#include "bench/session/session_names.hpp"
#include "bench/sound/listening.hpp"
#include "trends/wood/wood_taps.hpp"

#include <algorithm>
#include <cmath>

namespace platewright::bench {
namespace {

/// A kept tap as it is heard now. `counts`: the session or test, which counts what is lost.
template <class Again>
HeardTap unmute(const ledger::Store& store, const ledger::TapRecord& record,
                const modes::FitParams& params, Again& counts) {
    HeardTap heard{.tap = {}, .partials = record.partials};
    heard.tap.verdict = record.verdict;
    heard.tap.spot = record.spot;
    if (!taps::rings(record.verdict))
        return heard;
    try {
        if (record.recording.empty()) {
            ++counts.lost;
            return heard;
        }
        heard.tap = store.load(record);
    } catch (const base::Failure&) {
        ++counts.lost;
        return heard;
    }
    modes::Fit fit = modes::fit_tap(heard.tap, params);
    heard.partials = std::move(fit.partials);
    if (heard.partials.empty()) { // what is doubtful by itself was not among its session's taps
        heard.tap.verdict = taps::Verdict::no_ring;
        ++counts.not_rung;
    }
    return heard;
}

/// Which taps' partials were found now, and not taken over.
bool is_new(const ledger::TapRecord& tap) {
    return taps::rings(tap.verdict) && tap.analysis_version == modes::k_analysis_version;
}

/// The band with room for what was found before: a piece struck on end sounds far above a plate.
modes::FitParams widened(modes::FitParams fit, const std::vector<ledger::WoodModeRecord>& modes) {
    constexpr double k_room = 1.25;
    for (const ledger::WoodModeRecord& mode : modes) {
        if (mode.frequency_hz < fit.low_hz)
            fit.low_hz = mode.frequency_hz / k_room;
        if (mode.frequency_hz > fit.high_hz)
            fit.high_hz = mode.frequency_hz * k_room;
    }
    return fit;
}

/// Sorts what is recognised now into the motions found and those that are gone.
void take_motions(const std::vector<modes::Mode>& found, const std::string& species,
                  WoodTestAgain& test) {
    std::vector<trends::TypedMotion> known;
    for (const ledger::WoodModeRecord& mode : test.before.modes)
        known.push_back({mode.motion, mode.frequency_hz, mode.q});
    const trends::RecognisedMotions now = trends::recognise(
        found, test.before.record, species, known, std::string(modes::k_analysis_version));
    for (const ledger::WoodModeRecord& mode : now.modes)
        if (mode.taps > 0)
            test.after.push_back(mode);
    for (const ledger::WoodModeRecord& mode : test.before.modes)
        if (mode.taps > 0 && std::ranges::find(test.after, mode.motion,
                                               &ledger::WoodModeRecord::motion) == test.after.end())
            test.gone.push_back(mode.motion);
    test.doubts = now.doubts;
}

/// The modes found now, and what `keep_reading` keeps of each tap that was read now.
template <class KeepReading>
void keep(ledger::Store& store, const std::vector<SessionAgain>& sessions,
          const KeepReading& keep_reading) {
    for (const SessionAgain& session : sessions) {
        for (const ledger::TapRecord& tap : session.after.taps)
            if (is_new(tap))
                keep_reading(tap);
        store.set_modes(session.after.session.id, session.after.modes);
    }
}

} // namespace

std::vector<SessionAgain> analyse_again(const ledger::Store& store,
                                        const ledger::PlateHistory& history,
                                        const modes::FitParams& fit,
                                        const std::function<bool(double)>& progress) {
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
            taps.push_back(unmute(store, tap, fit, session));
            if (session.lost == lost && taps::rings(tap.verdict)) {
                tap.partials = taps.back().partials;
                tap.analysis_version = std::string(modes::k_analysis_version);
            }
            if (progress && !progress(static_cast<double>(++done) / static_cast<double>(all)))
                return sessions;
        }
        const modes::Naming naming = name_session(anew, after, pool(taps, fit).modes);
        after.modes = mode_records(after.session.id, naming.modes);
        session.after = after;
        session.difference = trends::compare(session.after, session.before);
        sessions.push_back(std::move(session));
    }
    return sessions;
}

void keep_again(ledger::Store& store, const std::vector<SessionAgain>& sessions) {
    keep(store, sessions, [&](const ledger::TapRecord& tap) {
        if (!store.has_reading(tap.id, modes::k_analysis_version))
            store.add_reading(tap.id, modes::k_analysis_version, tap.partials);
    });
}

void keep_in_other_band(ledger::Store& store, const std::vector<SessionAgain>& sessions) {
    keep(store, sessions, [&](const ledger::TapRecord& tap) {
        store.replace_reading(tap.id, modes::k_analysis_version, tap.partials);
    });
}

std::vector<WoodTestAgain> analyse_again(const ledger::Store& store,
                                         const ledger::WoodHistory& history,
                                         const modes::FitParams& fit,
                                         const std::function<bool(double)>& progress) {
    std::size_t all = 0, done = 0;
    for (const ledger::WoodTest& test : history.tests)
        all += test.taps.size();
    std::vector<WoodTestAgain> tests;
    for (const ledger::WoodTest& kept : history.tests) {
        if (kept.taps.empty())
            continue;
        WoodTestAgain test;
        test.before = kept;
        const modes::FitParams band = widened(fit, kept.modes);
        std::vector<HeardTap> taps;
        for (const ledger::TapRecord& tap : kept.taps) {
            taps.push_back(unmute(store, tap, band, test));
            if (progress && !progress(static_cast<double>(++done) / static_cast<double>(all)))
                return tests;
        }
        take_motions(pool(taps, band).modes, history.wood.species, test);
        tests.push_back(std::move(test));
    }
    return tests;
}

void keep_again(ledger::Store& store, const std::vector<WoodTestAgain>& tests) {
    for (const WoodTestAgain& test : tests) {
        std::vector<ledger::WoodModeRecord> anew;
        for (const ledger::WoodModeRecord& mode : test.after)
            if (std::ranges::none_of(test.before.modes, [&](const ledger::WoodModeRecord& kept) {
                    return kept.motion == mode.motion &&
                           kept.analysis_version == mode.analysis_version &&
                           kept.taps == mode.taps &&
                           std::abs(kept.frequency_hz - mode.frequency_hz) <
                               1e-6 * mode.frequency_hz;
                }))
                anew.push_back(mode);
        if (!anew.empty())
            store.add_wood_modes(test.before.record.id, anew);
    }
}

} // namespace platewright::bench
