#include "main/ledger/mending.hpp"

#include "bench/sound/read_lacking.hpp"
#include "main/console.hpp"

#include <fmt/format.h>

namespace platewright::cli {

int read_found_again(const std::filesystem::path& folder) {
    ledger::Store store(folder);
    ProgressLine line("reading what was found again");
    const int read = bench::read_lacking(store, {}, line.callback());
    line.clear();
    return read;
}

std::string found_text(const ledger::RescueReport& found) {
    std::string text = fmt::format("Found again beside the database: {} taps, {} sessions, {} "
                                   "plates, {} instruments, {} woods; {} values put "
                                   "right.",
                                   found.taps, found.sessions, found.plates, found.instruments,
                                   found.woods, found.corrected);
    if (found.strangers > 0)
        text += fmt::format("\n{} recordings say of which session they are, but nothing more of "
                            "it; a copy of the database that "
                            "knows it brings them back (platewright restore).",
                            found.strangers);
    if (found.unreadable > 0)
        text += fmt::format(
            "\n{} recordings could not be used: they are damaged, or another program's.",
            found.unreadable);
    if (found.facts_unreadable > 0)
        text += fmt::format("\n{} files of facts could not be used: they are damaged.",
                            found.facts_unreadable);
    return text;
}

Json found_json(const ledger::RescueReport& found, int read) {
    return {{"taps", found.taps},
            {"sessions", found.sessions},
            {"plates", found.plates},
            {"instruments", found.instruments},
            {"woods", found.woods},
            {"corrected", found.corrected},
            {"strangers", found.strangers},
            {"unreadable", found.unreadable},
            {"facts_unreadable", found.facts_unreadable},
            {"read", read}};
}

} // namespace platewright::cli
