#include "main/find.hpp"

#include "base/clock.hpp"
#include "base/failure.hpp"
#include "base/text.hpp"
#include "bench/copies.hpp"
#include "ledger/mend/check.hpp"
#include "main/console.hpp"
#include "wording/say.hpp"

#include <algorithm>
#include <array>
#include <cctype>
#include <fmt/format.h>
#include <fmt/ranges.h>
#include <functional>
#include <iterator>

namespace platewright::cli {

namespace {

/// The ledger's folder that this command writes in.
std::optional<std::filesystem::path>& written() {
    static std::optional<std::filesystem::path> only;
    return only;
}

/// Of its files, where another program exchanged them.
void tell_what_became_of(ledger::Store& store) {
    for (const std::string& told : store.take_notices())
        complain(told);
}

/// What `text_of` says of each, a comma between.
template <class List, class TextOf>
std::string listed(const List& list, const TextOf& text_of) {
    std::vector<std::string> texts;
    std::ranges::transform(list, std::back_inserter(texts), text_of);
    return fmt::format("{}", fmt::join(texts, ", "));
}

/// "12 (“Wren back”)"
constexpr auto number_and_label = [](const auto& record) {
    return fmt::format("{} (“{}”)", record.id, record.label);
};

base::Fault one_of_several(const std::string& name, const char* kind, const std::string& known) {
    return {
        fmt::format("“{}” may mean several {}: name one by its number, {}.", name, kind, known)};
}

base::Fault none_called(const std::string& name, const char* kind,
                        std::vector<std::string> labels) {
    constexpr std::size_t k_shown = 12;
    const bool are_more = labels.size() > k_shown;
    labels.resize(std::min(labels.size(), k_shown));
    return {fmt::format("No {} is called “{}”; there are {}{}.", kind, name,
                        listed(labels, [](const auto& l) { return "“" + l + "”"; }),
                        are_more ? " and more" : "")};
}

char lower_case(char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; }

} // namespace

bool same_label(std::string_view a, std::string_view b) {
    return std::ranges::equal(a, b, {}, lower_case, lower_case);
}

std::vector<ledger::PlateRecord> plates_called(const ledger::Store& store,
                                               const std::string& name) {
    std::vector<ledger::PlateRecord> plates = store.find_plates(name);
    const auto bears_it = [&](const ledger::PlateRecord& plate) {
        return same_label(plate.label, name);
    };
    if (std::ranges::any_of(plates, bears_it))
        std::erase_if(plates, std::not_fn(bears_it));
    return plates;
}

base::Result<ledger::PlateRecord> find_plate(const ledger::Store& store, const std::string& name) {
    const auto plates = plates_called(store, name);
    if (plates.size() == 1)
        return plates.front();
    if (!plates.empty())
        return one_of_several(name, "plates", listed(plates, number_and_label));
    std::vector<std::string> labels;
    for (const auto& instrument : store.overview())
        for (const auto& plate : instrument.plates)
            labels.push_back(plate.plate.label);
    return labels.empty()
               ? base::Fault{fmt::format("The ledger “{}” holds no plates yet: `platewright enter` "
                                         "makes one.",
                                         store.folder().string())}
               : none_called(name, "plate", labels);
}

base::Result<ledger::PlateHistory> find_history(const ledger::Store& store,
                                                const std::string& name) {
    const auto plate = find_plate(store, name);
    return plate ? base::Result<ledger::PlateHistory>(store.history(plate->id).value())
                 : plate.fault();
}

base::Result<ledger::InstrumentRecord> find_instrument(const ledger::Store& store,
                                                       const std::string& name) {
    std::vector<ledger::InstrumentRecord> found, all;
    for (const ledger::InstrumentSummary& one : store.overview()) {
        all.push_back(one.instrument);
        if (same_label(all.back().label, name) || std::to_string(all.back().id) == name)
            found.push_back(all.back());
    }
    if (found.size() == 1)
        return found.front();
    return base::Fault{fmt::format("{} instrument is called “{}”; there are {}.",
                                   found.empty() ? "No" : "More than one", name,
                                   all.empty() ? "none" : listed(all, number_and_label))};
}

std::optional<modes::Part> part_named_in(const std::string& label) {
    constexpr std::array<std::pair<std::string_view, modes::Part>, 10> k_words{
        {{"top", modes::Part::top},
         {"decke", modes::Part::top},
         {"tavola", modes::Part::top},
         {"back", modes::Part::back},
         {"boden", modes::Part::back},
         {"fondo", modes::Part::back},
         {"body", modes::Part::body},
         {"corpus", modes::Part::body},
         {"korpus", modes::Part::body},
         {"cassa", modes::Part::body}}};
    std::optional<modes::Part> named;
    std::string word;
    for (const char c : label + " ") {
        if (std::isalpha(static_cast<unsigned char>(c)) != 0) {
            word += static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
            continue;
        }
        for (const auto& [known, part] : k_words) {
            if (word != known)
                continue;
            if (named && *named != part)
                return std::nullopt; // it speaks of two
            named = part;
        }
        word.clear();
    }
    return named;
}

base::Result<ledger::Store> open_to_read(const std::filesystem::path& folder) {
    if (!std::filesystem::exists(folder / "ledger.sqlite") && ledger::holds_recordings(folder))
        return base::Fault{
            wording::say("The ledger's database is gone, but recordings lie in its "
                         "folder, so no empty ledger is begun there. Run "
                         "platewright check --mend, which brings back what its copies "
                         "and the recordings hold; nothing was changed.")};
    if (!std::filesystem::exists(folder / "ledger.sqlite"))
        return base::Fault{fmt::format(
            "There is no ledger in “{}”: name its folder with --ledger, or make one with "
            "`platewright enter`.",
            folder.string())};
    ledger::Store store(folder, ledger::Access::read_only);
    tell_what_became_of(store);
    return store;
}

ledger::Store open_to_write(const std::filesystem::path& folder) {
    ledger::Store store(folder);
    if (!store.read_only())
        written() = folder;
    tell_what_became_of(store);
    return store;
}

ledger::Store open_to_change(const std::filesystem::path& folder, std::string_view not_done) {
    ledger::Store store = open_to_write(folder);
    if (store.read_only())
        throw base::Failure(fmt::format("The ledger “{}” can only be read now, because {}. {}",
                                        store.folder().string(), store.why_read_only(), not_done));
    return store;
}

void lay_copy_of_written_aside() {
    if (!written())
        return;
    if (const std::string trouble = bench::lay_copy_aside(*written()); !trouble.empty())
        complain(trouble);
}

base::Result<ledger::Id> reference_session(const ledger::Store& store, const std::string& name) {
    for (const ledger::ReferenceRecord& reference : store.references())
        if (reference.label == name)
            return reference.session;
    const auto plate = find_plate(store, name);
    if (!plate)
        return base::Fault{"No reference has this name. " + plate.fault().what};
    const auto history = store.history(plate->id);
    if (!history || history->sessions.empty())
        return base::Fault{fmt::format("“{}” has no sessions yet to set a plate against.", name)};
    return history->sessions.back().session.id;
}

base::Result<std::size_t> find_session(const ledger::PlateHistory& history,
                                       const std::string& name) {
    if (history.sessions.empty())
        return base::Fault{
            fmt::format("“{}” has no session yet: `platewright enter --plate \"{}\"` begins one.",
                        history.plate.label, history.plate.label)};
    if (name.empty())
        return history.sessions.size() - 1;
    const auto day = base::from_typed(name);
    std::vector<std::size_t> found;
    for (std::size_t i = 0; i < history.sessions.size(); ++i) {
        const ledger::SessionRecord& session = history.sessions[i].session;
        if ((day && base::local_date(*day) == base::local_date(session.begun)) ||
            name == std::to_string(session.id))
            found.push_back(i);
    }
    if (found.size() == 1)
        return found.front();
    const std::string known = listed(history.sessions, [](const ledger::SessionHistory& one) {
        return fmt::format("{} ({})", one.session.id, base::local_date(one.session.begun));
    });
    if (found.empty())
        return base::Fault{fmt::format("No session of “{}” is “{}”; there are {}.",
                                       history.plate.label, name, known)};
    return one_of_several(name, "sessions", known);
}

base::Result<ledger::WoodHistory> find_wood(const ledger::Store& store, const std::string& name) {
    const std::vector<ledger::WoodHistory> stock = store.wood_stock();
    const ledger::Id id = base::parse_whole(name).value_or(0);
    std::vector<ledger::WoodHistory> found;
    for (const ledger::WoodHistory& one : stock)
        if (one.wood.label == name || (id != 0 && one.wood.id == id))
            found.push_back(one);
    if (found.empty())
        for (const ledger::PlateRecord& plate : store.find_plates(name))
            if (const auto history = store.history(plate.id); history && history->wood)
                found.push_back(*history->wood);
    if (found.size() == 1)
        return found.front();
    if (!found.empty())
        return one_of_several(name, "woods", listed(found, [](const ledger::WoodHistory& one) {
                                  return number_and_label(one.wood);
                              }));
    if (stock.empty())
        return base::Fault{"The ledger holds no wood yet: `platewright wood add` brings it in."};
    std::vector<std::string> labels;
    for (const ledger::WoodHistory& one : stock)
        labels.push_back(one.wood.label);
    return none_called(name, "wood", labels);
}

} // namespace platewright::cli
