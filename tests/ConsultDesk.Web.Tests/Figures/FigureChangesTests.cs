using ConsultDesk.Reports.Figures;
using ConsultDesk.Web.Figures;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.RenderTree;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging.Abstractions;
using Xunit;

namespace ConsultDesk.Web.Tests.Figures;

/// <summary>How much is sent to the browser when a drawing changes: counted edits, no clock.</summary>
public sealed class FigureChangesTests
{
    private static Figure Of(params IEnumerable<FigureElement> elements) => new()
    {
        Id = "test",
        Title = "A drawing",
        AltText = "A drawing.",
        Width = 100,
        Height = 100,
        Elements = [.. elements],
        Legend = [],
        Table = new DataTable { Caption = "Numbers", Heads = ["Part"], Rows = [] },
    };

    private static IEnumerable<FigureElement> Hundred() => Enumerable.Range(0, 100).Select(index => index % 2 == 0
        ? (FigureElement)new Box(index, index, 5, 5) { Stroke = Ink.Body, Subject = $"part-{index}", Hint = "A part" }
        : new Polyline([new(index, 0), new(0, index)]) { Stroke = Ink.Rule });

    [Fact]
    public async Task An_arrow_that_comes_leaves_the_hundred_parts_behind_it_as_they_are()
    {
        await using var browser = new CountingRenderer();
        await browser.Show(Of(Hundred()));
        var edits = await browser.Show(Of([new Arrow([new(0, 0), new(0, 40)], 8) { Stroke = Ink.AirOut, Subject = "lid" }, .. Hundred()]));

        // Into figure, scroller and drawing, the arrow, and out again.
        Assert.InRange(edits, 1, 7);
    }

    [Fact]
    public async Task A_part_that_moves_changes_its_own_place_and_nothing_else()
    {
        await using var browser = new CountingRenderer();
        await browser.Show(Of(Hundred()));
        var moved = Hundred().ToList();
        moved[40] = (Box)moved[40] with { X = 77 };
        var edits = await browser.Show(Of(moved));

        // Into figure, scroller, drawing and part, one attribute, and out again: at most four ways in and out.
        Assert.InRange(edits, 1, 9);
    }

    // These types may change with a release of the framework: then this counter changes with them, and no other code knows them.
#pragma warning disable BL0006

    /// <summary>Counts the edits of each batch instead of sending them.</summary>
    private sealed class CountingRenderer() : Renderer(new ServiceCollection().BuildServiceProvider(), NullLoggerFactory.Instance)
    {
        private int _edits;
        private int _root = -1;

        public override Dispatcher Dispatcher { get; } = Dispatcher.CreateDefault();

        public Task<int> Show(Figure figure) => Dispatcher.InvokeAsync(async () =>
        {
            _root = _root < 0 ? AssignRootComponentId(InstantiateComponent(typeof(FigureView))) : _root;
            _edits = 0;
            await RenderRootComponentAsync(_root, ParameterView.FromDictionary(new Dictionary<string, object?> { [nameof(FigureView.Figure)] = figure }));
            return _edits;
        });

        protected override Task UpdateDisplayAsync(in RenderBatch renderBatch)
        {
            for (var index = 0; index < renderBatch.UpdatedComponents.Count; index++)
            {
                _edits += renderBatch.UpdatedComponents.Array[index].Edits.Count;
            }

            return Task.CompletedTask;
        }

        protected override void HandleException(Exception exception) => System.Runtime.ExceptionServices.ExceptionDispatchInfo.Capture(exception).Throw();
    }
}
