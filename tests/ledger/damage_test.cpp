// Databases damaged at random, and what comes back of them. ledger-results.md has what this
// printed.
#include "ledger/mend/backups.hpp"
#include "ledger/mend/check.hpp"
#include "ledger/mend/mend.hpp"
#include "ledger/workshop.hpp"
#include "support/catch.hpp"

#include <fmt/format.h>
#include <fstream>
#include <map>
#include <random>

using namespace platewright;
using namespace platewright::ledger;
using namespace platewright::test;

namespace {

namespace fs = std::filesystem;

constexpr int k_plates = 6, k_sessions = 6, k_taps = 8;

/// Sessions and taps that are there, by what can't be mistaken in them.
struct Kept {
    std::map<std::int64_t, std::string> sessions; ///< by the moment: mass, stage, notes
    std::map<std::string, std::string> taps; ///< by the recording: spot, verdict, onset, figures
    std::size_t partials = 0;
};

Kept kept_in(const fs::path& folder) {
    Kept kept;
    const Store store{folder, Access::read_only};
    for (const InstrumentSummary& instrument : store.overview())
        for (const PlateSummary& plate : instrument.plates) {
            const auto history = store.history(plate.plate.id);
            for (const SessionHistory& one : history->sessions) {
                kept.sessions[one.session.begun.ms_since_epoch] =
                    fmt::format("{} {} {}", *one.session.mass_g, modes::to_word(one.session.stage),
                                one.session.notes);
                for (const TapRecord& tap : one.taps) {
                    kept.taps[tap.recording] =
                        fmt::format("{} {} {} {}", taps::to_word(tap.spot),
                                    taps::to_word(tap.verdict), tap.onset_frame, tap.peak_dbfs);
                    kept.partials += tap.partials.size();
                }
            }
        }
    return kept;
}

void make_ledger(const fs::path& folder) {
    Store store{folder};
    int number = 0;
    for (int p = 0; p < k_plates; ++p) {
        const Id instrument = store.add(some_instrument());
        const Id plate = store.add(some_plate(instrument));
        for (int s = 0; s < k_sessions; ++s) {
            SessionRecord session = some_session(plate, s);
            session.begun.ms_since_epoch += p;
            const Id id = store.add(session);
            for (int t = 0; t < k_taps; ++t) {
                TapRecord tap = some_tap(id, ++number);
                for (int extra = 0; extra < 12; ++extra)
                    tap.partials.push_back(some_partial(400.0 + 50 * extra));
                store.add(tap, some_sound(number, 600));
            }
            store.set_modes(id, {some_mode(150, 2), some_mode(310, 5)});
        }
        if (p == k_plates / 2)
            back_up(folder, base::now()); // half of what there is
    }
}

/// One of the ways in which disks fail: pages of rubbish or of zeros, a few bits, an end cut off.
std::string damage(const fs::path& file, std::mt19937& random) {
    const auto size = static_cast<std::int64_t>(fs::file_size(file));
    const auto below = [&random](std::int64_t end) {
        return std::uniform_int_distribution<std::int64_t>{0, end - 1}(random);
    };
    std::fstream bytes{file, std::ios::in | std::ios::out | std::ios::binary};
    const auto write_page = [&](bool zeros) {
        std::string page(4096, '\0');
        for (char& letter : page)
            letter = zeros ? '\0' : static_cast<char>(below(256));
        bytes.seekp(below(size / 4096) * 4096);
        bytes << page;
    };
    switch (below(5)) {
    case 0:
        write_page(false);
        return "a page of rubbish";
    case 1:
        write_page(true);
        return "a page of zeros";
    case 2:
        for (std::int64_t i = below(size / 4096 / 10) + 1; i > 0; --i)
            write_page(below(2) == 0);
        return "up to a tenth of the pages";
    case 3:
        for (std::int64_t i = below(20) + 1; i > 0; --i) {
            const std::int64_t place = below(size);
            bytes.seekg(place);
            const auto letter = static_cast<char>(bytes.get() ^ (1 << below(8)));
            bytes.seekp(place);
            bytes.put(letter);
        }
        return "bits";
    default:
        bytes.close();
        fs::resize_file(file, static_cast<std::uintmax_t>(below(size)));
        return "an end cut off";
    }
}

struct Tally {
    int copies = 0, found_damaged = 0;
    std::size_t sessions = 0, taps = 0, partials = 0, wrong = 0;
};

/// How much of `truth` is there, and how much is there otherwise without a word.
void count(const Kept& truth, const Kept& now, bool told, Tally& tally) {
    ++tally.copies;
    tally.partials += std::min(now.partials, truth.partials);
    for (const auto& [moment, words] : truth.sessions)
        if (const auto found = now.sessions.find(moment); found != now.sessions.end()) {
            ++tally.sessions;
            tally.wrong += found->second != words && !told ? 1U : 0U;
        }
    for (const auto& [hash, words] : truth.taps)
        if (const auto found = now.taps.find(hash); found != now.taps.end()) {
            ++tally.taps;
            tally.wrong += found->second != words && !told ? 1U : 0U;
        }
}

double share(std::size_t part, std::size_t whole, int copies) {
    return static_cast<double>(part) / (static_cast<double>(whole) * copies);
}

Tally damage_and_mend(int copies, bool rows_alone, const Kept& truth, const fs::path& folder) {
    std::mt19937 random{20261129};
    Tally tally;
    const fs::path sound = folder.parent_path() / "sound.sqlite";
    for (int copy = 0; copy < copies; ++copy) {
        fs::copy_file(sound, folder / "ledger.sqlite", fs::copy_options::overwrite_existing);
        const std::string how = damage(folder / "ledger.sqlite", random);
        CAPTURE(copy, how);
        fs::remove_all(folder / "laid-aside");
        if (rows_alone)
            fs::remove_all(folder / "recordings"), fs::remove_all(folder / "backups");
        tally.found_damaged += check(folder).whole() ? 0 : 1;
        const MendReport report = mend(folder);
        count(truth, kept_in(folder), !report.changed.empty(), tally);
        if (!rows_alone)
            CHECK(check(folder).whole());
    }
    fmt::print("{} damaged copies, {} found damaged; {}: {:.2f} % of sessions, {:.2f} % of taps, "
               "{:.2f} % of partials; "
               "{} otherwise than they were without a word\n",
               tally.copies, tally.found_damaged,
               rows_alone ? "the database alone" : "all that lies beside it",
               100 * share(tally.sessions, truth.sessions.size(), copies),
               100 * share(tally.taps, truth.taps.size(), copies),
               100 * share(tally.partials, truth.partials, copies), tally.wrong);
    return tally;
}

void measure(int copies) {
    const TemporaryFolder folder;
    const fs::path ledger = folder.path() / "ledger";
    make_ledger(ledger);
    fs::copy_file(ledger / "ledger.sqlite", folder.path() / "sound.sqlite");
    const Kept truth = kept_in(ledger);
    REQUIRE(truth.taps.size() == std::size_t{k_plates * k_sessions * k_taps});
    const Tally all = damage_and_mend(copies, false, truth, ledger);
    CHECK(share(all.sessions, truth.sessions.size(), copies) >= 0.99);
    CHECK(share(all.taps, truth.taps.size(), copies) >= 0.99);
    CHECK(all.wrong == 0);
    damage_and_mend(copies, true, truth, ledger);
}

} // namespace

TEST_CASE("of databases damaged at random, all sessions and taps come back") { measure(12); }

TEST_CASE("two hundred databases damaged at random", "[.][damage]") { measure(200); }
