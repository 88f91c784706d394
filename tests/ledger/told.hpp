#pragma once
#include "ledger/store.hpp"

#include <algorithm>
#include <filesystem>
#include <fmt/format.h>
#include <optional>
#include <string>

namespace platewright::test {

namespace fs = std::filesystem;
using namespace platewright::ledger;

/// Removes the database's files; copies too where it is asked for.
inline void lose_database(const fs::path& folder, bool copies_too = true) {
    for (const char* name : {"ledger.sqlite", "ledger.sqlite-wal", "ledger.sqlite-shm"})
        fs::remove(folder / name);
    if (copies_too)
        fs::remove_all(folder / "backups");
}

inline std::string text_of(const std::optional<double>& value) {
    return value ? fmt::format("{}", *value) : "none";
}

inline std::string told_weighings(const SessionHistory& session) {
    std::string text;
    for (const WeighingRecord& w : session.weighings)
        text +=
            fmt::format(" weighed {} {} {} {} {} {} {} by {}", w.begun.ms_since_epoch, w.at.x_mm,
                        w.at.y_mm, w.place, to_word(w.thing), w.mass_g, w.place_sd_mm,
                        std::ranges::count(session.taps, w.id, &TapRecord::weighing));
    return text;
}

/// All that a maker typed, and of each tap what was heard of it; without what an analysis finds
/// again.
inline std::string told(const Store& store) {
    std::string text;
    for (const InstrumentSummary& one : store.overview()) {
        text +=
            fmt::format("{} {} {} {}\n", one.instrument.label, modes::to_word(one.instrument.kind),
                        one.instrument.notes, one.instrument.created.ms_since_epoch);
        for (const PlateSummary& summary : one.plates) {
            const auto history = store.history(summary.plate.id);
            text += fmt::format(
                " {} {} {} {} {} form {} targets {} wood {}\n", history->plate.label,
                modes::to_word(history->plate.part), history->plate.wood,
                text_of(history->plate.density_kg_m3), history->plate.created.ms_since_epoch,
                history->form ? text_of(history->form->right_density) : "none",
                history->targets.size(), history->wood ? history->wood->wood.label : "none");
            for (const SessionHistory& session : history->sessions) {
                const SessionRecord& s = session.session;
                text += fmt::format(
                    "  {} {} {} {} {} {} map {} pins {} flex {} plan {}{}\n",
                    s.begun.ms_since_epoch, modes::to_word(s.stage), text_of(s.mass_g),
                    text_of(s.temperature_c), text_of(s.humidity_pct), s.notes,
                    session.thickness.readings.size(), session.pins.size(), session.flex.size(),
                    session.plan ? session.plan->summary : "none", told_weighings(session));
                for (const TapRecord& tap : session.taps)
                    text += fmt::format("   {} {} {} {} {} {} {} {} {}\n", tap.at.ms_since_epoch,
                                        taps::to_word(tap.verdict), taps::to_word(tap.spot),
                                        tap.sample_rate_hz, tap.onset_frame, tap.onset_index,
                                        tap.peak_dbfs, tap.noise_dbfs, tap.recording);
            }
        }
    }
    for (const WoodHistory& wood : store.wood_stock())
        text += fmt::format("{} {} {} tests {} modes {}\n", wood.wood.label, wood.wood.species,
                            wood.wood.origin, wood.tests.size(), wood.tests.at(0).modes.size());
    for (const ReferenceRecord& reference : store.references())
        text += "reference " + reference.label + "\n";
    for (const BinnedThing& thing : store.in_the_bin())
        text += fmt::format("bin {} {}\n", thing.table, thing.binned.ms_since_epoch);
    return text;
}

inline std::string told_in(const fs::path& folder) {
    return told(Store{folder, Access::read_only});
}

} // namespace platewright::test
