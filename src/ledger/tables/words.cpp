#include "ledger/tables/words.hpp"

namespace platewright::ledger {

UnknownWord::UnknownWord(const std::string& word)
    : base::Failure{"The ledger's database is damaged: it holds a word that cannot be. Nothing was "
                    "changed; the folder 'backups' has earlier copies.",
                    "unknown word '" + word + "'"} {}

} // namespace platewright::ledger
