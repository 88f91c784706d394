#include "base/failure.hpp"
#include "ledger/backups.hpp"
#include "ledger/check.hpp"
#include "ledger/recording_file.hpp"
#include "ledger/tap_label.hpp"
#include "ledger/workshop.hpp"
#include "support/catch.hpp"

#include <fstream>

using namespace platewright;
using namespace platewright::ledger;
using namespace platewright::test;

TEST_CASE("what a recording says of its tap is read as it was written, and nothing else is taken "
          "for it") {
    const TapLabel label{"0123abcd", {1'700'000'200'007},    123456789012,
                         480,        taps::Spot::waist_left, taps::Verdict::noise_before};
    const auto read = label_from_text(to_text(label));
    REQUIRE(read);
    CHECK(read->session_uid == label.session_uid);
    CHECK(read->at == label.at);
    CHECK(read->onset_frame == label.onset_frame);
    CHECK(read->onset_index == label.onset_index);
    CHECK(read->spot == label.spot);
    CHECK(read->verdict == label.verdict);
    const std::string text = to_text(label);
    for (std::size_t cut = 0; cut < text.size(); cut += 3)
        CHECK_FALSE(label_from_text(text.substr(0, cut)));
    CHECK_FALSE(label_from_text("a song about a plate"));
}

TEST_CASE(
    "with yesterday's copy of the database, today's taps are put back from their recordings") {
    const TemporaryFolder folder;
    std::filesystem::path copy;
    {
        Workshop workshop{folder.path()};
        workshop.add_tap(1);
        copy = *back_up_if_due(folder.path(), base::now());
        workshop.add_tap(2);
        TapRecord refused = some_tap(workshop.session, 3);
        refused.verdict = taps::Verdict::struck_twice;
        workshop.store.add(refused, some_sound(3));
        const Id late = workshop.store.add(some_session(workshop.plate, 5)); // the copy lacks it
        workshop.store.add(some_tap(late, 4), some_sound(4));
    }
    std::filesystem::copy_file(copy, folder.path() / "ledger.sqlite",
                               std::filesystem::copy_options::overwrite_existing);
    const auto foreign = encode_recording(some_sound(9).samples, 48000, "somebody else's");
    const std::string stray(64, 'b');
    std::filesystem::create_directories(folder.path() / "recordings" / "bb");
    std::ofstream{folder.path() / "recordings" / "bb" / (stray + ".flac"), std::ios::binary}.write(
        reinterpret_cast<const char*>(foreign.data()),
        static_cast<std::streamsize>(foreign.size()));

    Store store{folder.path()};
    CHECK(store.history(1)->sessions[0].taps.size() == 1);
    const RescueReport report = store.rescue();
    CHECK(report.taps == 2);
    CHECK(report.strangers == 1);
    CHECK(report.unreadable == 1);
    const auto history = store.history(1);
    const auto& taps = history->sessions[0].taps;
    REQUIRE(taps.size() == 3);
    CHECK(taps[1].onset_frame == 2000);
    CHECK(taps[1].onset_index == 480);
    CHECK(taps[1].spot == taps::Spot::lower_bout_left);
    CHECK(taps[1].peak_dbfs == Approx(20.0 * std::log10(0.4)).margin(0.5));
    CHECK(taps[1].noise_dbfs < -100.0);
    CHECK(taps[1].partials.empty());
    CHECK(taps[2].verdict == taps::Verdict::struck_twice);
    CHECK(store.load(taps[2]).samples.size() == some_sound(3).samples.size());
    CHECK(store.rescue().taps == 0);
    CHECK(check(folder.path()).missing.empty());
}

TEST_CASE("nothing is put back where nothing can be written") {
    const TemporaryFolder folder;
    Workshop workshop{folder.path()};
    workshop.add_tap(1);
    Store reader{folder.path()};
    CHECK(reader.rescue().taps == 0);
    const TapRecord tap = workshop.store.history(workshop.plate)->sessions[0].taps[0];
    const auto whole = folder.path() / "recordings" / tap.recording.substr(0, 2);
    std::filesystem::create_directories(folder.path() / "recordings" / "cc");
    const auto stray = std::string(64, 'c') + ".flac";
    std::filesystem::copy(whole / (tap.recording + ".flac"),
                          folder.path() / "recordings" / "cc" / stray);
    CHECK(reader.rescue().unreadable == 1); // its name is not its content's
    CHECK(workshop.store.history(workshop.plate)->sessions[0].taps.size() == 1);
}
