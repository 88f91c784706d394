// A database that was damaged, or made to harm: read whole, as a list, as histories, and checked.
#include "base/failure.hpp"
#include "fuzz/harness.hpp"
#include "ledger/mend/check.hpp"
#include "ledger/store.hpp"
#include "trends/drift/drift.hpp"

using namespace platewright;

namespace {

void read_all(const std::filesystem::path& folder) {
    const ledger::Store store{folder, ledger::Access::read_only};
    store.references();
    store.find_plates("1");
    for (const ledger::InstrumentSummary& instrument : store.overview())
        for (const ledger::PlateSummary& plate : instrument.plates)
            if (const auto history = store.history(plate.plate.id))
                trends::drift(*history);
}

} // namespace

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    static const test::TemporaryFolder folder{test::memory_folder()};
    const auto file = folder.path() / "ledger.sqlite";
    for (const char* ending : {"", "-wal", "-shm", "-journal"})
        std::filesystem::remove(file.string() + ending);
    fuzz::write_file(file, {data, size});
    for (const auto act : {+[](const std::filesystem::path& path) { read_all(path); },
                           +[](const std::filesystem::path& path) { ledger::check(path); }})
        try {
            act(folder.path());
        } catch (const base::Failure&) {
        }
    return 0;
}
