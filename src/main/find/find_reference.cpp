#include "main/find/find_reference.hpp"

#include "main/find/find_plate.hpp"

#include <fmt/format.h>

namespace platewright::cli {

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

} // namespace platewright::cli
