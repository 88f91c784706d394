// Notices are read one after another by their numbers, however many there were.
#include "awaiting.hpp"
#include "bench/engine.hpp"
#include "support/catch.hpp"
#include "support/temporary_folder.hpp"

using namespace platewright;

TEST_CASE("a notice has a number of its own, however many there were before") {
    const test::TemporaryFolder folder;
    bench::Engine engine({.ledger_folder = folder.path(), .listen_at_once = false});
    std::int64_t last = 0;
    for (int i = 0; i < 30; ++i) {
        if (i % 2 == 0) // two that can't be done, told in different words
            engine.send(bench::command::UndoTap{});
        else
            engine.send(bench::command::BeginSession{});
        const auto now = test::shown_in_time(engine, [&](const bench::Snapshot& s) {
            return !s.notices.empty() && s.notices.back().number > last;
        });
        REQUIRE(now->notices.back().number > last);
        last = now->notices.back().number;
    }
    CHECK(last == 30);
    CHECK(engine.snapshot()->notices.size() <= 20);
}
