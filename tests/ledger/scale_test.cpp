// Issue-sized ledgers: times and their growth. Hidden; run by hand, as README and DEVELOPERS say:
//   ledger_test "[scale]"
#include "ledger/check.hpp"
#include "ledger/database.hpp"
#include "ledger/workshop.hpp"
#include "support/catch.hpp"

#include <chrono>
#include <fmt/format.h>

using namespace platewright;
using namespace platewright::ledger;
using namespace platewright::test;

namespace {

template <class Act>
double seconds(const Act& act) {
    const auto start = std::chrono::steady_clock::now();
    act();
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

/// Two plates an instrument, 20 sessions a plate, 30 taps a session sharing one recording, 14
/// partials a tap and 14 modes a session: grown from the one that a Workshop made.
void grow(const std::filesystem::path& folder, int instruments) {
    Database database{folder / "ledger.sqlite", Database::Access::read_write};
    database.run("PRAGMA synchronous = OFF; PRAGMA cache_size = -200000");
    Transaction transaction{database};
    const std::string count = "WITH RECURSIVE n(i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n "
                              "WHERE i < ?) ";
    database.execute(count + "INSERT INTO instrument (label, kind, notes, created_ms) "
                             "SELECT 'Instrument ' || i, 'violin', '', i FROM n",
                     instruments);
    database.execute(count + "INSERT INTO plate (instrument, part, label, wood, notes, created_ms) "
                             "SELECT x.id, iif(i = 1, 'top', 'back'), x.label || ' plate ' || i, "
                             "'', '', x.id FROM instrument x, n",
                     2);
    database.execute(count +
                         "INSERT INTO session (plate, begun_ms, stage, mass_g, notes) "
                         "SELECT p.id, 1700000000000 + i * 86400000, 'graduating', 130.0 - i, '' "
                         "FROM plate p, n",
                     20);
    database.execute(count + "INSERT INTO tap (session, at_ms, verdict, spot, sample_rate_hz, "
                             "onset_frame, onset_index, peak_dbfs, noise_dbfs, recording) "
                             "SELECT s.id, i, 'accepted', 'centre', 48000, 1000, 480, -7, -60, "
                             "(SELECT hash FROM recording) FROM session s, n",
                     30);
    database.run("INSERT INTO reading (tap, analysis_version, made_ms) "
                 "SELECT t.id, '1', 0 FROM tap t WHERE t.id NOT IN (SELECT tap FROM reading)");
    database.execute(count +
                         "INSERT INTO partial SELECT r.id, i, 100.0 * i, 0.1, 60, 1, -i, -30, 0.1, "
                         "0, 0.1 FROM reading r, n WHERE r.id > 1",
                     14);
    database.run("INSERT INTO mode_set (session, analysis_version, made_ms) "
                 "SELECT id, '1', 0 FROM session");
    database.execute(
        count + "INSERT INTO mode (mode_set, frequency_hz, frequency_sd_hz, spread_hz, q, "
                "q_sd, level_db, taps, number) SELECT e.id, 100.0 * i, 0.1, 0.3, 60, 1, -i, "
                "30, iif(i = 2, 2, iif(i = 5, 5, NULL)) FROM mode_set e, n",
        14);
    database.run("INSERT INTO mode_spot SELECT id, 'centre', -1, 0.5, 15 FROM mode");
    database.run("INSERT INTO mode_spot SELECT id, 'lower_end', 0, 0.5, 15 FROM mode");
    transaction.commit();
}

void measure(int instruments) {
    const TemporaryFolder folder;
    {
        Workshop workshop{folder.path()};
        workshop.store.add(some_tap(workshop.session, 1), some_sound(1, 48'000));
    }
    const double growing = seconds([&] { grow(folder.path(), instruments); });
    std::optional<Store> store;
    const double opening = seconds([&] { store.emplace(folder.path()); });
    const double listing = seconds([&] { CHECK(store->overview().size() > 9); });
    const std::string label = fmt::format("Instrument {} plate 2", instruments);
    std::vector<PlateRecord> found;
    const double finding = seconds([&] { found = store->find_plates(label); });
    REQUIRE(found.size() == 1);
    std::optional<PlateHistory> history;
    const double reading = seconds([&] { history = store->history(found[0].id); });
    REQUIRE(history->sessions.size() == 20);
    CHECK(history->sessions[7].taps.size() == 30);
    const Id session = history->sessions.back().session.id;
    const double adding = seconds([&] {
        for (int number = 1; number <= 10; ++number)
            store->add(some_tap(session, number), some_sound(number, 48'000));
    });
    const double checking = seconds([&] { CHECK(check(folder.path()).whole()); });
    const auto megabytes = std::filesystem::file_size(folder.path() / "ledger.sqlite") / 1'000'000;
    WARN(
        fmt::format("{} instruments, {} MB: made in {:.1f} s; open {:.1f} ms, list {:.1f} ms, find "
                    "{:.2f} ms, a plate's history {:.1f} ms, add a tap {:.1f} ms, check {:.2f} s",
                    instruments, megabytes, growing, 1e3 * opening, 1e3 * listing, 1e3 * finding,
                    1e3 * reading, 1e2 * adding, checking));
    CHECK(opening < 1.0);
    CHECK(reading < 0.05);
}

} // namespace

TEST_CASE("ledgers of ten and a hundred instruments", "[.][scale]") {
    measure(10);
    measure(100);
}

TEST_CASE("a ledger of a thousand instruments", "[.][scale]") { measure(1000); }
