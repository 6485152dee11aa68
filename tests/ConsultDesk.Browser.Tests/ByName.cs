using Xunit;
using Xunit.Sdk;
using Xunit.v3;

[assembly: TestCollectionOrderer(typeof(ConsultDesk.Browser.Tests.ByName))]
[assembly: TestMethodOrderer(typeof(ConsultDesk.Browser.Tests.ByName))]
[assembly: TestCaseOrderer(typeof(ConsultDesk.Browser.Tests.ByName))]

namespace ConsultDesk.Browser.Tests;

/// <summary>
/// Runs the tests in the order of their names. They share desks, so one may meet what another left there; by itself the order comes from the folder of the
/// checkout, and what fails in one folder cannot be found in another.
/// </summary>
public sealed class ByName : ITestCollectionOrderer, ITestMethodOrderer, ITestCaseOrderer
{
    /// <inheritdoc/>
    public IReadOnlyCollection<TTestCollection> OrderTestCollections<TTestCollection>(IReadOnlyCollection<TTestCollection> testCollections)
        where TTestCollection : ITestCollection =>
        [.. testCollections.OrderBy(collection => collection.TestCollectionDisplayName, StringComparer.Ordinal)];

    /// <inheritdoc/>
    public IReadOnlyCollection<TTestMethod?> OrderTestMethods<TTestMethod>(IReadOnlyCollection<TTestMethod?> testMethods)
        where TTestMethod : notnull, ITestMethod =>
        [.. testMethods.OrderBy(method => method?.MethodName, StringComparer.Ordinal)];

    /// <inheritdoc/>
    public IReadOnlyCollection<TTestCase> OrderTestCases<TTestCase>(IReadOnlyCollection<TTestCase> testCases)
        where TTestCase : notnull, ITestCase =>
        [.. testCases.OrderBy(test => test.TestCaseDisplayName, StringComparer.Ordinal)];
}
