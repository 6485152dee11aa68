using ConsultDesk.Web.Shell;
using Xunit;

namespace ConsultDesk.Web.Tests.Desk;

public sealed class WhenTests
{
    private static readonly DateTime Now = new(2026, 3, 9, 12, 0, 0, DateTimeKind.Utc);

    [Theory]
    [InlineData(0, "just now")]
    [InlineData(59, "just now")]
    [InlineData(60, "1 minute ago")]
    [InlineData(150, "2 minutes ago")]
    [InlineData(3600, "1 hour ago")]
    [InlineData(86399, "23 hours ago")]
    [InlineData(86400, "1 day ago")]
    [InlineData(604799, "6 days ago")]
    [InlineData(604800, "2 Mar 2026")]
    public void A_moment_is_told_as_a_span_until_a_date_says_more(int seconds, string expected) =>
        Assert.Equal(expected, When.Ago(Now.AddSeconds(-seconds), Now));
}
