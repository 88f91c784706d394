#pragma once
#include "ledger/store.hpp"

#include <exception>
#include <utility>
#include <vector>

namespace platewright::cli {

/// What `enter` made so far; put away again unless a tap came to lie in it.
class Made {
public:
    explicit Made(ledger::Store& store) : store_(store) {}
    ~Made() {
        try {
            for (auto made = made_.rbegin(); made != made_.rend(); ++made)
                store_.bin(made->first, made->second);
        } catch (const std::exception&) { // the disk that failed before: what failed has been said
        }
    }
    Made(const Made&) = delete;
    Made& operator=(const Made&) = delete;
    ledger::Id add(const char* table, ledger::Id id) {
        made_.emplace_back(table, id);
        return id;
    }
    void keep() { made_.clear(); }

private:
    ledger::Store& store_;
    std::vector<std::pair<const char*, ledger::Id>> made_;
};

} // namespace platewright::cli
