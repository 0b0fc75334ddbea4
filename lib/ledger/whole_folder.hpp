#pragma once
#include <filesystem>
#include <string>

namespace tarewell::ledger {

/// A folder made under another name and renamed when it is whole; removed otherwise. Throws input_error when something
/// stands at its path already, io_error when it cannot be made.
class whole_folder {
  public:
    explicit whole_folder(const std::string& path);
    ~whole_folder();
    whole_folder(const whole_folder&) = delete;
    whole_folder& operator=(const whole_folder&) = delete;

    /// Where to write.
    [[nodiscard]] const std::filesystem::path& partial() const { return partial_; }
    void put_in_place();

  private:
    std::filesystem::path path_, partial_;
    bool in_place_ = false;
};

} // namespace tarewell::ledger
