// A ledger that grows: opening, listing, searching, a plate's drift, adding a tap and the check, at
// 10, 100 and 1000 instruments of 2 plates, 20 sessions a plate and 30 taps a session (one
// recording shared by all, 14 partials a tap, 14 modes a session; all invented). Prints the table
// of docs/ledger-results.md and fails where opening takes a second or a plate's drift 50 ms. The
// largest takes 1.3 GB and some minutes.
//   ledger_scale FOLDER [INSTRUMENTS…]     (FOLDER: where ledgers are made and removed again)
#include "base/text.hpp"
#include "bench/workbench.hpp"
#include "ledger/mend/check.hpp"
#include "ledger/tables/database.hpp"
#include "ledger/workshop.hpp"
#include "trends/drift/drift.hpp"
#include "trends/plate_name.hpp"
#include "trends/plate_report.hpp"

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <ctime>
#include <fmt/format.h>
#include <vector>

namespace {

using namespace platewright;
using ledger::Database;

constexpr double k_opening_ms = 1000.0;
constexpr double k_drift_ms = 50.0;

/// How long something took: by the clock, and of the processor (the machine may be shared).
struct Took {
    double ms = 0;
    double cpu_ms = 0;
};

double cpu_ms() {
    timespec now{};
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
    return 1e3 * static_cast<double>(now.tv_sec) + 1e-6 * static_cast<double>(now.tv_nsec);
}

template <class Act>
Took once(const Act& act) {
    const auto start = std::chrono::steady_clock::now();
    const double cpu = cpu_ms();
    act();
    return {
        std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - start).count(),
        cpu_ms() - cpu};
}

/// The median of several, each of its own number.
template <class Act>
Took median(int times, const Act& act) {
    std::vector<Took> all;
    for (int i = 0; i < times; ++i)
        all.push_back(once([&] { act(i); }));
    const auto middle = all.begin() + static_cast<std::ptrdiff_t>(all.size() / 2);
    std::nth_element(all.begin(), middle, all.end(),
                     [](const Took& a, const Took& b) { return a.ms < b.ms; });
    return *middle;
}

/// Grown from the one tap of a Workshop. Modes fall by 0.6 % a session of a gram, each session a
/// little off.
void grow(const std::filesystem::path& folder, int instruments) {
    Database database{folder / "ledger.sqlite", Database::Access::read_write};
    database.run("PRAGMA synchronous = OFF; PRAGMA cache_size = -200000");
    ledger::Transaction transaction{database};
    const std::string count =
        "WITH RECURSIVE n(i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n WHERE i < ?) ";
    database.execute(count + "INSERT INTO instrument (label, kind, notes, created_ms) "
                             "SELECT 'Instrument ' || i, 'violin', 'invented', i FROM n",
                     instruments);
    database.execute(
        count +
            "INSERT INTO plate (instrument, part, label, wood, notes, created_ms) "
            "SELECT x.id, iif(i = 1, 'top', 'back'), x.label || ' plate ' || i, 'spruce', '', x.id "
            "FROM instrument x, n WHERE x.notes = 'invented'",
        2);
    database.execute(
        count + "INSERT INTO session (plate, begun_ms, stage, mass_g, temperature_c, humidity_pct, "
                "notes) "
                "SELECT p.id, 1700000000000 + i * 86400000, 'graduating', 130.0 - i, 20.0, "
                "45.0 + i % 7, 'a note of session ' || i FROM plate p, n WHERE p.wood = 'spruce'",
        20);
    database.execute(count + "INSERT INTO tap (session, at_ms, verdict, spot, sample_rate_hz, "
                             "onset_frame, onset_index, "
                             "peak_dbfs, noise_dbfs, recording) SELECT s.id, i, 'accepted', "
                             "'centre', 48000, 1000, 480, "
                             "-7, -60, (SELECT hash FROM recording) FROM session s, n WHERE "
                             "s.notes LIKE 'a note of%'",
                     30);
    database.run("INSERT INTO reading (tap, analysis_version, made_ms) "
                 "SELECT t.id, '1', 0 FROM tap t WHERE t.id NOT IN (SELECT tap FROM reading)");
    database.execute(
        count + "INSERT INTO partial SELECT r.id, i, 100.0 * i, 0.1, 60, 1, -i, -30, 0.1, 0, 0.1 "
                "FROM reading r, n WHERE r.id > 1",
        14);
    database.run(
        "INSERT INTO mode_set (session, analysis_version, made_ms) SELECT id, '1', 0 FROM session");
    database.execute(
        count + "INSERT INTO mode (mode_set, frequency_hz, frequency_sd_hz, spread_hz, q, q_sd, "
                "level_db, "
                "taps, number, confidence) SELECT e.id, 75.0 * i * (0.22 + 0.006 * s.mass_g) * "
                "(1 + 4e-6 * ((s.id * 7919 + i * 104729) % 1000 - 500)), 0.1, 0.3, 60, 1, -i, 30, "
                "iif(i IN (1, 2, 5), i, NULL), iif(i IN (1, 2, 5), 0.97, NULL) "
                "FROM mode_set e JOIN session s ON s.id = e.session, n",
        14);
    database.run("INSERT INTO mode_spot SELECT id, 'centre', -1, 0.5, 15 FROM mode");
    database.run("INSERT INTO mode_spot SELECT id, 'lower_end', 0, 0.5, 15 FROM mode");
    transaction.commit();
}

/// What `drift` and the window compute of a plate: its history, tracks, forecasts and remarks.
void drift_of(const ledger::Store& store, ledger::Id plate) {
    const ledger::PlateHistory history = store.history(plate).value();
    const trends::Drift drift = trends::drift(history);
    const auto said = trends::remarks(history, drift);
    if (history.sessions.size() != 20 || drift.tracks.size() < 14 || !drift.tracks.front().forecast)
        throw std::runtime_error("the plate has another history than was made");
}

ledger::Id plate_called(const ledger::Store& store, int number) {
    return store.find_plates(fmt::format("Instrument {} plate 2", number)).at(0).id;
}

/// One line of the table; whether it holds the limits.
bool measure(const std::filesystem::path& under, int instruments) {
    const std::filesystem::path folder = under / fmt::format("ledger-of-{}", instruments);
    std::filesystem::remove_all(folder);
    {
        test::Workshop workshop{folder};
        workshop.store.add(test::some_tap(workshop.session, 1), test::some_sound(1, 48'000));
    }
    grow(folder, instruments);
    std::optional<ledger::Store> store;
    const Took opening = once([&] { store.emplace(folder); });
    std::vector<ledger::InstrumentSummary> all;
    const Took listing = median(5, [&](int) { all = store->overview(); });
    const Took searching = median(5, [&](int) {
        const auto found = std::ranges::count_if(
            all, [](const auto& one) { return trends::answers_to(one, "note 7 plate"); });
        if (found < instruments)
            throw std::runtime_error("the search found too little");
    });
    const Took finding = median(5, [&](int i) { plate_called(*store, instruments - i); });
    const Took history =
        median(7, [&](int i) { (void)store->history(plate_called(*store, 1 + i)); });
    const Took drift =
        median(7, [&](int i) { drift_of(*store, plate_called(*store, instruments - i)); });
    bench::Workbench workbench(*store, {});
    const Took onto_bench =
        median(3, [&](int i) { workbench.open_plate(plate_called(*store, instruments - i)); });
    const ledger::Id session =
        store->history(plate_called(*store, instruments))->sessions.back().session.id;
    const Took adding = median(11, [&](int i) {
        store->add(test::some_tap(session, i + 2), test::some_sound(i + 2, 48'000));
    });
    bool whole = false;
    const Took checking = once([&] { whole = ledger::check(folder).whole(); });
    const auto megabytes = std::filesystem::file_size(folder / "ledger.sqlite") / 1'000'000;
    fmt::print("| {} | {} | {} MB | {:.1f} | {:.0f} | {:.1f} | {:.2f} | {:.0f} | {:.0f} ({:.0f}) | "
               "{:.0f} | {:.0f} | {:.1f} s |\n",
               instruments, 1200 * instruments, megabytes, opening.ms, listing.ms, searching.ms,
               finding.ms, history.ms, drift.ms, drift.cpu_ms, onto_bench.ms, adding.ms,
               1e-3 * checking.ms);
    std::fflush(stdout);
    store.reset();
    std::filesystem::remove_all(folder);
    const bool holds = whole && opening.ms < k_opening_ms && drift.cpu_ms < k_drift_ms;
    if (!holds)
        fmt::print("{} instruments: a limit is missed, or the check found damage\n", instruments);
    return holds;
}

} // namespace

int main(int argc, char** argv) {
    if (argc < 2) {
        std::fprintf(stderr, "usage: ledger_scale FOLDER [INSTRUMENTS…]\n");
        return 2;
    }
    std::vector<int> sizes;
    for (int i = 2; i < argc; ++i)
        if (const auto number = base::parse_number(argv[i]); number && *number >= 10)
            sizes.push_back(static_cast<int>(*number));
    if (sizes.empty())
        sizes = {10, 100, 1000};
    fmt::print("| instruments | taps | database | open | list all | search | find a plate | its "
               "history | its drift "
               "(processor) | onto the bench | add a tap | check |\n");
    bool holds = true;
    for (const int size : sizes)
        holds = measure(argv[1], size) && holds;
    return holds ? 0 : 1;
}
