#pragma once
#include "screen/view_context.hpp"

#include <memory>
#include <optional>

namespace platewright::screen {

/// Asks the bench for the plate's model while someone looks, and again when what it rests on has
/// changed.
class StudyAsked {
public:
    /// The plate on the bench is never null.
    void keep(const ViewContext& context);
    /// Asks the next time, whatever was asked before.
    void again();

private:
    std::shared_ptr<const bench::PlateView> asked_for_;
    std::optional<bench::StudyInputs> inputs_; // of the model that was asked for last
};

} // namespace platewright::screen
