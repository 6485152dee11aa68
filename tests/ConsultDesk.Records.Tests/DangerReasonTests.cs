using Xunit;

namespace ConsultDesk.Records.Tests;

public sealed class DangerReasonTests
{
    [Theory]
    [InlineData("The client fits the vents before the trip.")]
    [InlineData("  Gas goes; shown on the call  ")]
    [InlineData("客户出发前会安装固定通风口")]
    [InlineData("Η φλόγα αφαιρείται πριν το ταξίδι")]
    public void Words_are_a_reason(string typed) => Assert.Null(DangerReason.Problem(typed));

    [Theory]
    [InlineData(null)]
    [InlineData("")]
    [InlineData("          ")]
    [InlineData("ok")]
    [InlineData("aaaaaaaaaaaaaaaa")]
    [InlineData("a a a a a a a a a a")]
    [InlineData("..................")]
    [InlineData("1234567890 1234567890")]
    [InlineData("asdfghjklqwert")]
    public void A_key_held_down_or_one_word_is_none(string? typed) => Assert.StartsWith("Expected a reason", DangerReason.Problem(typed), StringComparison.Ordinal);

    [Fact]
    public void It_is_not_longer_than_a_line_of_the_store_takes() =>
        Assert.NotNull(DangerReason.Problem(string.Concat(Enumerable.Repeat("reason and ", 60))));
}
