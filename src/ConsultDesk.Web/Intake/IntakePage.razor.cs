using System.Collections.Immutable;
using ConsultDesk.Records;
using Microsoft.AspNetCore.Components;

namespace ConsultDesk.Web.Intake;

/// <summary>The questionnaire as a client fills it in, one page a step. What was typed is saved even while it is wrong.</summary>
public sealed partial class IntakePage(IntakeDoor door, IntakePhotos photos, NavigationManager navigation)
{
    /// <summary>Largest form that is read: a few photos at their full size, so that one too many is refused in words.</summary>
    public const long LargestPost = 64 * 1024 * 1024;

    private readonly Dictionary<string, string> _errors = new(StringComparer.Ordinal);
    private readonly List<string> _photoErrors = [];
    private ClientIntake? _intake;
    private IReadOnlyDictionary<string, string> _answers = IntakeAnswers.None;
    private Step? _step;
    private string? _trouble;

    [Parameter]
    public string Token { get; set; } = "";

    [Parameter]
    public string? StepKey { get; set; }

    [CascadingParameter]
    private HttpContext HttpContext { get; set; } = default!;

    private string Heading => _intake?.SubmittedAt is not null ? "Thank you" : _step?.Title ?? "Before we talk";

    private int StepNumber => Questionnaire.Steps.IndexOf(_step!) + 1;

    protected override async Task OnInitializedAsync()
    {
        await ReadAsync();
        _step = Questionnaire.StepOf(StepKey);
        if (_intake is null || (StepKey is not null && _step is null))
        {
            _intake = null;
            HttpContext.Response.StatusCode = StatusCodes.Status404NotFound;
        }
        else if (_step is not null && HttpMethods.IsGet(HttpContext.Request.Method))
        {
            Check();
        }
    }

    private string Address(string step) => $"/intake/{Token}/{step}";

    private string? Answer(string key) => _answers.GetValueOrDefault(key);

    private string? Error(string key) => _errors.GetValueOrDefault(key);

    private async Task ReadAsync()
    {
        _intake = await door.Open(Token, HttpContext.RequestAborted);
        _answers = _intake?.Answers ?? IntakeAnswers.None;
    }

    private void Check()
    {
        foreach (var (key, error) in Questionnaire.Errors(_step!, _answers))
        {
            _errors[key] = error;
        }
    }

    private async Task PostAsync()
    {
        if (_intake is null || _step is null || _intake.SubmittedAt is not null)
        {
            return;
        }

        var form = await HttpContext.Request.ReadFormAsync(HttpContext.RequestAborted);
        try
        {
            var works = _step.Key switch
            {
                Questionnaire.PhotosStep => await PhotosAsync(form),
                Questionnaire.SendStep => await SendAsync(form),
                _ => await AnswersAsync(form),
            };
            await ReadAsync();
            if (!works || _intake is null)
            {
                _intake = null;
                HttpContext.Response.StatusCode = StatusCodes.Status404NotFound;
                return;
            }
        }
        catch (InvalidInputException refused)
        {
            foreach (var error in refused.Errors)
            {
                _errors[error.Field] = error.Message;
            }

            _trouble = refused.Errors.Any(error => !_answers.ContainsKey(error.Field)) ? refused.Errors[0].Message : null;
            return;
        }
        catch (IntakeSubmittedException)
        {
            await ReadAsync();
            return;
        }
        catch (Exception fault) when (StoreFault.Of(fault) is not null)
        {
            // The page says that nothing was saved; beside that, "saved as it is" would be wrong.
            _errors.Clear();
            throw;
        }

        var next = Where(form["go"].ToString());
        if (_errors.Count == 0 && _photoErrors.Count == 0 && next is not null)
        {
            navigation.NavigateTo(next);
        }
    }

    /// <summary>Where the button leads; null for this very page.</summary>
    private string? Where(string go) => go switch
    {
        "next" when StepNumber < Questionnaire.Steps.Length => Address(Questionnaire.Steps[StepNumber].Key),
        "back" when StepNumber > 1 => Address(Questionnaire.Steps[StepNumber - 2].Key),
        "stop" or "send" => $"/intake/{Token}",
        _ => Address(_step!.Key),
    };

    private async Task<bool> AnswersAsync(IFormCollection form)
    {
        // A row more than is shown, so that what another device added meanwhile is asked for too.
        var changed = _step!.Questions(_answers).Where(question => form.ContainsKey(question.Key) || question.Kind == AnswerKind.Several)
            .ToDictionary(
                question => question.Key,
                question => question.Kind == AnswerKind.Several
                    ? string.Join(' ', form[question.Key].Where(value => !string.IsNullOrWhiteSpace(value)))
                    : form[question.Key].ToString().ReplaceLineEndings("\n").Trim(),
                StringComparer.Ordinal);
        // Shown again as typed, should the saving be refused.
        _answers = IntakeAnswers.With(_answers.ToImmutableSortedDictionary(StringComparer.Ordinal), changed);
        Check();
        return await door.Save(Token, changed, HttpContext.RequestAborted);
    }

    private async Task<bool> PhotosAsync(IFormCollection form)
    {
        if (Guid.TryParse(form["remove"], out var gone))
        {
            return await door.RemovePhoto(Token, gone, HttpContext.RequestAborted);
        }

        var subject = form["subject"].ToString();
        if (Questionnaire.PhotoSubjects.All(known => known.Value != subject))
        {
            subject = "other";
        }

        foreach (var file in form.Files)
        {
            var read = await photos.ReadAsync(_intake!.FirmId, file, HttpContext.RequestAborted);
            if (read.Photo is not { } photo)
            {
                _photoErrors.Add($"{file.FileName}: {read.Error}");
                continue;
            }

            try
            {
                if (!await door.AddPhoto(Token, subject, photo.Jpeg, photo.Width, photo.Height, HttpContext.RequestAborted))
                {
                    return false;
                }
            }
            catch (InvalidInputException refused)
            {
                _photoErrors.Add($"{file.FileName}: {refused.Errors[0].Message}");
            }
        }

        return true;
    }

    private async Task<bool> SendAsync(IFormCollection form)
    {
        if (form["go"] != "send")
        {
            return true;
        }

        var wrong = Questionnaire.Steps.Where(step => Questionnaire.Errors(step, _answers).Count > 0).Select(step => step.Title).ToList();
        if (wrong.Count > 0)
        {
            _trouble = $"Not sent yet: an answer needs another look on {string.Join(", ", wrong)}.";
            _errors["wrong"] = _trouble;
            return true;
        }

        var consent = Questionnaire.Consent(_intake!.FirmName);
        foreach (var (key, _) in consent.Where(line => form[line.Key] != "yes"))
        {
            _errors[key] = "Needed before it can be sent.";
        }

        return _errors.Count > 0 || await door.Submit(Token, [.. consent.Select(line => line.Text)], HttpContext.RequestAborted);
    }
}
