#include "base/failure.hpp"
#include "main/commands.hpp"
#include "main/console.hpp"
#include "main/find.hpp"

#include <algorithm>
#include <cctype>
#include <memory>
#include <set>

namespace platewright::cli {
namespace {

/// A word that may come next, and what it does.
void offer(std::string_view word, std::string_view about = {}) {
    std::string line(word);
    if (!about.empty())
        line += "\t" + std::string(about.substr(0, about.find('\n')));
    if (std::ranges::none_of(word, [](char c) { return c == '\n' || c == '\t'; }))
        say(line);
}

/// Labels of a ledger that is there already; a ledger that can't be read offers none.
void offer_labels(const std::string& kind, const Common& common) {
    try {
        const auto store = open_to_read(common.ledger_folder());
        if (!store)
            return;
        std::set<std::string> labels;
        for (const ledger::InstrumentSummary& one : (*store).overview()) {
            if (kind == "NAME")
                labels.insert(one.instrument.label);
            for (const ledger::PlateSummary& plate : one.plates)
                if (kind != "WOOD")
                    labels.insert(plate.plate.label);
        }
        if (kind == "WOOD")
            for (const ledger::WoodHistory& wood : (*store).wood_stock())
                labels.insert(wood.wood.label);
        for (const std::string& label : labels)
            offer(label);
    } catch (const base::Failure&) { // completion never complains
    }
}

/// The option that a word names, if it wants a value.
const CLI::Option* wants_value(const CLI::App& command, const std::string& word) {
    for (const CLI::Option* option : command.get_options())
        if (option->get_type_size_max() > 0 && option->nonpositional() && option->check_name(word))
            return option;
    return nullptr;
}

void offer_words_of(const auto& values) {
    for (const auto value : values)
        offer(to_word(value));
}

/// What an option takes one of: words of the trade, or its kind says "all|begun", or
/// "TEXT:{en,de,it}".
void offer_choices(std::string_view kind) {
    if (kind == "KIND")
        return offer_words_of(modes::k_instrument_kinds);
    if (kind == "PART")
        return offer_words_of(modes::k_parts);
    if (kind == "STAGE")
        return offer_words_of(modes::k_stages);
    if (kind == "SPOT" || kind == "[SECONDS:]SPOT")
        return offer_words_of(taps::k_spots);
    const auto open = kind.find('{');
    if (open != std::string_view::npos)
        kind = kind.substr(open + 1, kind.find('}', open) - open - 1);
    else if (kind.find('|') == std::string_view::npos ||
             !std::ranges::all_of(kind, [](char c) { return c == '|' || std::islower(c) != 0; }))
        return; // a file's name, a number, or words of the maker's
    while (!kind.empty()) {
        const std::size_t end = std::min(kind.find_first_of(",|"), kind.size());
        offer(kind.substr(0, end));
        kind.remove_prefix(std::min(end + 1, kind.size()));
    }
}

void offer_next(const CLI::App& app, std::vector<std::string> words, const Common& common) {
    const std::string now = words.empty() ? std::string() : words.back();
    if (!words.empty())
        words.pop_back();
    const CLI::App* command = &app;
    const CLI::Option* valued = nullptr;
    for (const std::string& word : words) {
        if (valued != nullptr) {
            valued = nullptr;
            continue;
        }
        valued = wants_value(*command, word);
        for (const CLI::App* below : command->get_subcommands([](const CLI::App*) { return true; }))
            if (below->get_name() == word)
                command = below;
    }
    if (valued != nullptr) {
        const std::string type = valued->get_type_name();
        if (type == "PLATE" || type == "NAME" || type == "WOOD")
            offer_labels(type, common);
        offer_choices(type);
        return;
    }
    if (now.starts_with('-')) {
        for (const CLI::Option* option : command->get_options())
            if (option->nonpositional() && !option->get_lnames().empty() &&
                !option->get_group().empty())
                offer("--" + option->get_lnames().front(), option->get_description());
        return;
    }
    for (const CLI::App* below :
         command->get_subcommands([](const CLI::App* one) { return !one->get_group().empty(); }))
        offer(below->get_name(), below->get_description());
    for (const CLI::Option* option : command->get_options())
        for (const char* kind : {"PLATE", "NAME", "WOOD"})
            if (!option->nonpositional() && option->get_name(true).find(kind) != std::string::npos)
                offer_labels(kind, common);
}

} // namespace

void add_complete(CLI::App& app, Common& common, Chosen& chosen) {
    auto* command =
        app.add_subcommand("complete", "What may come next, for the shells' completion");
    command->group(""); // a person has no use for it
    auto words = std::make_shared<std::vector<std::string>>();
    command->add_option("WORD", *words, "The words so far, the one being typed last")
        ->allow_extra_args();
    command->callback([&app, &common, &chosen, words] {
        chosen = [&app, &common, words] {
            offer_next(app, *words, common);
            return k_done;
        };
    });
}

} // namespace platewright::cli
