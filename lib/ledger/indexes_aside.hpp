#pragma once
// Only for the sources of this room.
#include "ledger/sqlite_engine.hpp"

namespace tarewell::ledger {

/// The indexes of a table that is empty and gets many rows: taken away before, and made from all rows at once after,
/// which costs a third and leaves a smaller file. It happens inside the writer's transaction, so that nobody sees the
/// table without them.
class indexes_aside {
  public:
    /// Throws SQLite::Exception.
    indexes_aside(sqlite_engine& inside, kind of);
    indexes_aside(const indexes_aside&) = delete;
    indexes_aside& operator=(const indexes_aside&) = delete;
    void put_back();
    [[nodiscard]] kind of() const { return of_; }

  private:
    sqlite_engine& inside_;
    kind of_;
    std::vector<std::string> made_by_;
};

} // namespace tarewell::ledger
