using ConsultDesk.Web.Shell;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Rendering;

namespace ConsultDesk.Web.Workspace;

/// <summary>
/// Hands a value down as a cascading value, and tells its readers only when it is another one. A cascading value alone cannot know whether an object changed inside:
/// it tells every reader at every rendering of the page, and each is then rendered once for that and once for its parent.
/// </summary>
public sealed class Handed<T> : StaysOpen
    where T : class?
{
    private readonly RenderFragment _below;
    private Content? _content;
    private (T Value, object? Standing) _told;
    private bool _another;

    public Handed()
    {
        _below = builder =>
        {
            builder.OpenComponent<Content>(0);
            builder.AddComponentParameter(1, nameof(Content.Of), this);
            builder.AddComponentReferenceCapture(2, content => _content = (Content)content);
            builder.CloseComponent();
        };
    }

    /// <summary>What is handed down.</summary>
    [Parameter, EditorRequired]
    public required T Value { get; set; }

    /// <summary>What of it readers show that get nothing else from their parents; they are told when it differs. Null when the value never changes inside.</summary>
    [Parameter]
    public object? Standing { get; set; }

    /// <summary>Who reads it.</summary>
    [Parameter]
    public RenderFragment? ChildContent { get; set; }

    protected override void OnParametersSet()
    {
        _another = !ReferenceEquals(_told.Value, Value) || !Equals(_told.Standing, Standing);
        _told = (Value, Standing);
        if (!_another)
        {
            _content?.Again();
        }
    }

    /// <summary>What is below is rendered again either way; only the cascading value around it stays as it is.</summary>
    protected override bool ShouldRender() => _another;

    protected override void BuildRenderTree(RenderTreeBuilder builder)
    {
        ArgumentNullException.ThrowIfNull(builder);
        builder.OpenComponent<CascadingValue<T>>(0);
        builder.AddComponentParameter(1, nameof(CascadingValue<T>.Value), Value);
        builder.AddComponentParameter(2, nameof(CascadingValue<T>.ChildContent), _below);
        builder.CloseComponent();
    }

    private sealed class Content : StaysOpen
    {
        [Parameter, EditorRequired]
        public required Handed<T> Of { get; set; }

        public void Again() => StateHasChanged();

        protected override void BuildRenderTree(RenderTreeBuilder builder) => builder.AddContent(0, Of.ChildContent);
    }
}
