#include "bench/settings.hpp"

#include "base/text.hpp"

namespace platewright::bench {
namespace {

double number_setting(const ledger::Store& store, const char* key) {
    const auto text = store.setting(key);
    return text ? base::parse_number(*text).value_or(0) : 0;
}

} // namespace

audio::InputChoice remembered_input(const ledger::Store& store) {
    return {.name = store.setting("input.name").value_or(""),
            .sample_rate_hz = number_setting(store, "input.rate_hz"),
            .channel = static_cast<int>(number_setting(store, "input.channel"))};
}

void remember_input(ledger::Store& store, const audio::InputChoice& choice) {
    store.set_setting("input.name", choice.name);
    store.set_setting("input.rate_hz", base::fixed(choice.sample_rate_hz, 0));
    store.set_setting("input.channel", std::to_string(choice.channel));
}

std::optional<ledger::Id> remembered_plate(const ledger::Store& store) {
    const auto plate = static_cast<ledger::Id>(number_setting(store, "plate.last"));
    return plate != 0 && store.history(plate) ? std::optional{plate} : std::nullopt;
}

void remember_plate(ledger::Store& store, ledger::Id plate) {
    store.set_setting("plate.last", std::to_string(plate));
}

} // namespace platewright::bench
