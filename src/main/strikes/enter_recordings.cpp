#include "main/strikes/enter_recordings.hpp"

#include "bench/settings.hpp"
#include "main/strikes/hear.hpp"
#include "wording/say.hpp"

namespace platewright::cli {
namespace {

taps::Spot spot_at(const std::vector<SpotFrom>& spots, double onset_s) {
    taps::Spot spot = taps::Spot::unknown;
    for (const SpotFrom& from : spots)
        if (from.from_s <= onset_s)
            spot = from.spot;
    return spot;
}

KnownStrikes strikes_of(const std::optional<ledger::PlateHistory>& history) {
    KnownStrikes known;
    if (history)
        for (const ledger::SessionHistory& one : history->sessions)
            known.add(one.taps, one.session.begun);
    return known;
}

} // namespace

modes::FitParams usual_fit(const ledger::PlateHistory& history, const modes::BandChoice& chosen) {
    const modes::UsualBand band =
        modes::band_of(history.instrument.kind, history.plate.part, chosen);
    return {.low_hz = band.low_hz, .high_hz = band.high_hz};
}

EnteredRecordings enter_recordings(ledger::Store& store, bench::Workbench& bench,
                                   const ledger::SessionRecord& session,
                                   const RecordingsOrder& order, Made& made,
                                   const std::function<void(const bench::HeardTap&)>& on_tap) {
    EnteredRecordings done;
    done.found = order.files.empty();
    KnownStrikes known = strikes_of(store.history(session.plate));
    const auto begin = [&] {
        if (done.session)
            return;
        done.session = made.add("session", bench.begin_session(session));
        bench::remember_plate(store, session.plate);
    };
    for (const auto& path : order.files) {
        const Heard heard = hear(path, order.channel, order.fit, [&](bench::HeardTap& tap) {
            if (known.has(tap.tap, session.begun))
                return;
            begin();
            tap.tap.spot = spot_at(order.spots, tap.tap.onset_s());
            bench.judge(tap, order.takes_doubtful); // by those of the recording before, too
            bench.keep(tap);
            made.keep();
            done.found = done.found || taps::counts(tap.tap.verdict);
            on_tap(tap);
        });
        for (std::string& remark : input_remarks(path, heard))
            done.complaints.push_back(std::move(remark));
        if (!heard.trouble.empty()) {
            done.complaints.push_back(
                wording::say("{} The taps that were heard are kept.", heard.trouble));
            done.unusable = true;
        }
    }
    done.known = known.met();
    done.known_day = known.day();
    if (!done.session && done.known > 0) {
        done.complaints.push_back(wording::say(
            "All {} taps are in the session of {} already: nothing was entered. Correct that "
            "session in the window (F4), or put it away first.",
            done.known, done.known_day));
        return done;
    }
    begin();
    made.keep();
    if (done.known > 0)
        done.complaints.push_back(wording::say(
            "{} of the taps are in the session of {} already, and were not kept again.", done.known,
            done.known_day));
    done.recognised = bench.recognise();
    bench.settle();
    if (auto trouble = bench.take_trouble())
        done.complaints.push_back(*std::move(trouble));
    if (!done.found)
        done.complaints.emplace_back(wording::say(
            "No tap was good enough to read; the session is kept, with what was heard."));
    return done;
}

} // namespace platewright::cli
