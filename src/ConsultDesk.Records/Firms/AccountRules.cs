using Microsoft.AspNetCore.Identity;

namespace ConsultDesk.Records;

/// <summary>What Identity would refuse about an account, in our words and by field.</summary>
public static class AccountRules
{
    /// <summary>All that is wrong with an account's address and its new password, at once.</summary>
    internal static async Task<IReadOnlyList<FieldError>> Refusals(UserManager<DeskUser> users, DeskUser user, string password)
    {
        var problems = new List<FieldError>();
        var allowed = users.Options.User.AllowedUserNameCharacters;
        if (user.Email is { Length: > 0 and <= TextLimits.Email } email
            && (email.IndexOf('@', StringComparison.Ordinal) is var at && (at <= 0 || at != email.LastIndexOf('@') || at == email.Length - 1)
                || email.Any(c => !allowed.Contains(c, StringComparison.Ordinal))))
        {
            problems.Add(new(nameof(OwnerInput.Email), "Expected an e-mail address of letters without accents, digits and . _ - +, for example ada@example.org."));
        }

        problems.AddRange(await PasswordRefusals(users, user, password));
        return problems;
    }

    /// <summary>All that is wrong with a new password, under the field <see cref="OwnerInput.Password"/>.</summary>
    public static async Task<IReadOnlyList<FieldError>> PasswordRefusals(UserManager<DeskUser> users, DeskUser user, string password)
    {
        ArgumentNullException.ThrowIfNull(users);
        ArgumentNullException.ThrowIfNull(password);
        var problems = new List<FieldError>();
        foreach (var validator in users.PasswordValidators)
        {
            var answer = await validator.ValidateAsync(users, user, password);
            problems.AddRange(answer.Errors.Select(e => new FieldError(nameof(OwnerInput.Password), e.Code switch
            {
                nameof(IdentityErrorDescriber.PasswordTooShort) =>
                    FormattableString.Invariant($"Expected a password of at least {users.Options.Password.RequiredLength} characters; this one has {password.Length}."),
                nameof(IdentityErrorDescriber.PasswordRequiresUniqueChars) =>
                    FormattableString.Invariant($"Expected a password with at least {users.Options.Password.RequiredUniqueChars} different characters."),
                _ => e.Description,
            })));
        }

        return problems;
    }
}
